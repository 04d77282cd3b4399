import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { contentPolicy, FIXED_HEADERS, NOTHING_POLICY } from './security.ts';

/**
 * The built page, read whole at the start: a request is looked up by its exact path among what was
 * found, so no path leads anywhere else, and a rebuild underneath changes nothing half-way.
 */

/** Stands in the built page wherever this response's nonce belongs. */
const NONCE_PLACEHOLDER = '__CSP_NONCE__';

/** What is served, and as what. Anything else in the folder (source maps) is not. */
const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/x-icon',
  '.woff2': 'font/woff2',
  '.woff': 'font/woff',
  '.txt': 'text/plain; charset=utf-8',
};

/** The bundler puts a hash of the content into these names, so they never change. */
const HASHED = /^\/assets\/.+-[A-Za-z0-9_-]{8,}\.[a-z0-9]+$/;

export interface Answer {
  readonly status: number;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: string | Uint8Array<ArrayBuffer>;
}

export interface PageAssets {
  /** What to answer to a request for a path; `nonce` must be new for each. */
  answer(pathname: string, nonce: string): Answer;
}

/** A short answer in words. */
export const plainAnswer = (status: number, text: string): Answer => ({
  status,
  headers: {
    ...FIXED_HEADERS,
    'Content-Security-Policy': NOTHING_POLICY,
    'Content-Type': 'text/plain; charset=utf-8',
    'Cache-Control': 'no-store',
  },
  body: `${text}\n`,
});

export interface BuiltFile {
  readonly type: string;
  readonly body: Uint8Array<ArrayBuffer>;
}

export interface BuiltPage {
  readonly index: BuiltFile;
  /** All others, by their paths. */
  readonly files: ReadonlyMap<string, BuiltFile>;
}

/** Reads a built page. Throws an Error, said for people, where there is none. */
export const readBuiltPage = (folder: string): BuiltPage => {
  const files = new Map<string, BuiltFile>();
  const walk = (at: string, under: string): void => {
    for (const entry of readdirSync(at, { withFileTypes: true })) {
      const file = path.join(at, entry.name);
      const type = TYPES[path.extname(entry.name)];
      if (entry.isDirectory()) walk(file, `${under}${entry.name}/`);
      // Not a link: that could lead out of the folder.
      else if (entry.isFile() && type !== undefined)
        files.set(`${under}${entry.name}`, { type, body: Uint8Array.from(readFileSync(file)) });
    }
  };
  try {
    walk(folder, '/');
  } catch (error) {
    throw new Error(`The built page cannot be read in ${folder}.`, { cause: error });
  }
  const index = files.get('/index.html');
  if (!index) throw new Error(`There is no built page in ${folder}.`);
  files.delete('/index.html');
  return { index, files };
};

/** Reads the built page. Throws an Error, said for people, where it was not built. */
export const loadPageAssets = (folder: string): PageAssets => {
  const { index, files } = readBuiltPage(folder);
  const page = new TextDecoder().decode(index.body);

  return {
    answer: (pathname, nonce) => {
      if (pathname === '/')
        return {
          status: 200,
          headers: {
            ...FIXED_HEADERS,
            'Content-Security-Policy': contentPolicy(nonce),
            'Content-Type': index.type,
            'Cache-Control': 'no-store',
          },
          body: page.replaceAll(NONCE_PLACEHOLDER, nonce),
        };
      const file = files.get(pathname);
      if (!file) return plainAnswer(404, 'There is nothing here.');
      return {
        status: 200,
        headers: {
          ...FIXED_HEADERS,
          'Content-Security-Policy': NOTHING_POLICY,
          'Content-Type': file.type,
          'Cache-Control': HASHED.test(pathname)
            ? 'private, max-age=31536000, immutable'
            : 'no-cache',
        },
        body: file.body,
      };
    },
  };
};
