import { mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import path from 'node:path';

export const INDEX = `<!doctype html><html><head>
<meta property="csp-nonce" nonce="__CSP_NONCE__">
<script type="module" nonce="__CSP_NONCE__" src="./assets/index-B1a2c3d4.js"></script>
</head><body></body></html>`;

/** Writes a folder as the bundler would, with things in and beside it that must not be served. */
export const writeBuiltPage = (dir: string): string => {
  const renderer = path.join(dir, 'renderer');
  mkdirSync(path.join(renderer, 'assets'), { recursive: true });
  const write = (name: string, content: string): void =>
    writeFileSync(path.join(renderer, name), content);
  write('index.html', INDEX);
  write('assets/index-B1a2c3d4.js', 'export {};');
  write('assets/index-B1a2c3d4.js.map', '{}');
  write('assets/style-Zz9_-x12.css', 'body{}');
  write('assets/b612-Abcdefgh.woff2', 'font');
  write('plain.svg', '<svg/>');
  write('.hidden', 'no');
  write('run.sh', 'no');
  writeFileSync(path.join(dir, 'secret.txt'), 'secret');
  if (process.platform !== 'win32')
    symlinkSync(path.join(dir, 'secret.txt'), path.join(renderer, 'linked.txt'));
  return renderer;
};
