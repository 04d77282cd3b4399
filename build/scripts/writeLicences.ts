import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { shippedFolders, type Lock } from '../shippedPackages.ts';

const textOf = (folder: string): string | null => {
  const file = readdirSync(folder).find((name) => /^(licen[cs]e|copying)/i.test(name));
  return file === undefined ? null : readFileSync(path.join(folder, file), 'utf8').trim();
};

interface Named {
  readonly name: string;
  readonly version: string;
  readonly license?: string;
}

const RUNTIME = `Electron and Chromium: their licences lie beside the program (LICENSE.electron.txt,
LICENSES.chromium.html).
`;

/**
 * Writes `dist/licences.txt`, the licence of everything that ships with Millpond; gives the number of
 * packages. Throws where a package names none and carries none: nothing goes out without one.
 */
export const writeLicences = (root: string): number => {
  const read = (file: string): unknown => JSON.parse(readFileSync(file, 'utf8'));
  const lock = read(path.join(root, 'package-lock.json')) as { readonly packages: Lock };
  const parts = shippedFolders(lock.packages).map((folder) => {
    const at = path.join(root, folder);
    const { name, version, license } = read(path.join(at, 'package.json')) as Named;
    const text = textOf(at);
    if (license === undefined && text === null) throw new Error(`${name} names no licence.`);
    const words = text ?? '(The package carries no text of it.)';
    return `${name} ${version}: ${license ?? 'as follows'}\n\n${words}\n`;
  });
  const own = `Millpond\n\n${readFileSync(path.join(root, 'LICENSE'), 'utf8').trim()}\n`;
  mkdirSync(path.join(root, 'dist'), { recursive: true });
  writeFileSync(
    path.join(root, 'dist/licences.txt'),
    [own, RUNTIME, ...parts].join(`\n${'-'.repeat(72)}\n\n`),
  );
  return parts.length;
};
