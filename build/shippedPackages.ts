/**
 * Which packages of the lock file a shipped program holds: those it loads at run time, packed as
 * they are, and those the bundler has put into its files. Pure: it reads the lock file it is given.
 */

export interface Locked {
  readonly version?: string;
  readonly license?: string;
  readonly dependencies?: Readonly<Record<string, string>>;
}
/** The `packages` of a package-lock.json: by folder. */
export type Lock = Readonly<Record<string, Locked>>;

export const SYSTEMS = ['linux', 'win32', 'darwin'] as const;
export type System = (typeof SYSTEMS)[number];

/** What `build/vite/hosts.ts` leaves outside the bundles. */
const LOADED = ['better-sqlite3', 'ws', 'pdfkit', 'qrcode', 'highs', '@abandonware/noble'];
/** The Bluetooth library's way to Linux's own sockets; elsewhere it has native code of its own. */
const LOADED_ON_LINUX = ['@abandonware/bluetooth-hci-socket'];

const BUNDLED = [
  'zod',
  'react',
  'react-dom',
  'react-aria-components',
  'recharts',
  '@fontsource/b612',
];

/** Named as dependencies, and never loaded: headers, a command line, sockets over USB and serial lines. */
const NOT_LOADED = new Set([
  'node-addon-api',
  'napi-thread-safe-callback',
  'yargs',
  'patch-package',
  'async',
  'serialport',
  'usb',
]);

/** Where a package named in `folder` is found: beside it, or in a folder above. */
const resolve = (lock: Lock, folder: string, name: string): string | null => {
  for (let at = folder; ; at = at.slice(0, Math.max(0, at.lastIndexOf('node_modules/') - 1))) {
    const found = `${at === '' ? '' : `${at}/`}node_modules/${name}`;
    if (found in lock) return found;
    if (at === '') return null;
  }
};

/** The folders of these packages and all that they load, sorted. Throws where one is not locked. */
const closure = (lock: Lock, names: readonly string[]): readonly string[] => {
  const found = new Set<string>();
  const walk = (from: string, name: string): void => {
    const folder = resolve(lock, from, name);
    if (folder === null) throw new Error(`${name} (needed by ${from || 'us'}) is not locked`);
    if (found.has(folder)) return;
    found.add(folder);
    for (const next of Object.keys(lock[folder]?.dependencies ?? {}))
      if (!NOT_LOADED.has(next)) walk(folder, next);
  };
  for (const name of names) walk('', name);
  return [...found].toSorted();
};

/** Folders that are packed as they are, for a system. */
export const packedFolders = (lock: Lock, system: System): readonly string[] =>
  closure(lock, system === 'linux' ? [...LOADED, ...LOADED_ON_LINUX] : LOADED);

/** Folders of all that ships on any system, in whatever form. */
export const shippedFolders = (lock: Lock): readonly string[] =>
  closure(lock, [...LOADED, ...LOADED_ON_LINUX, ...BUNDLED]);
