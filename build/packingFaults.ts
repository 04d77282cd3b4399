import type { System } from './shippedPackages.ts';

/** What is wrong with a packed program, judged from its list of files and its fuses: pure. */

export interface Packed {
  readonly fuses: Readonly<Record<string, boolean>>;
  /** Files of the archive, with whether each lies outside it on the disk. */
  readonly files: readonly { readonly name: string; readonly unpacked: boolean }[];
  /** Names beside the archive. */
  readonly beside: readonly string[];
  /** The text of a macOS bundle's Info.plist; null elsewhere. */
  readonly bundleInfo: string | null;
  /** What went wrong when the packed files were run; null where they ran, or cannot run here. */
  readonly doesNotRun: string | null;
}

/** Bundled into our own files: packed raw they would ship twice. */
const BUNDLED = ['react', 'react-dom', 'react-aria-components', 'recharts', 'zod'];

const NEEDED = [
  'package.json',
  'dist/electron/main.js',
  'dist/electron/preload.cjs',
  'dist/electron/benchProcess.js',
  'dist/electron/solverWorker.js',
  'dist/electron/backupWorker.js',
  'dist/renderer/index.html',
  'dist/fonts/b612-latin-400-normal.woff',
  'node_modules/better-sqlite3/lib/index.js',
  'node_modules/ws/package.json',
  'node_modules/pdfkit/package.json',
  'node_modules/qrcode/package.json',
  'node_modules/highs/build/highs.wasm',
  'node_modules/@abandonware/noble/with-custom-binding.js',
];

const NEVER = [
  /\.map$/,
  /\.(?:ts|cc|cpp|c|h|md)$/,
  /^(?:core|drivers|electron|renderer|tests|build)\//,
  /^node_modules\/node-(?:linux|win)-/,
  /^node_modules\/(?:electron|typescript|vite|vitest|playwright-core)\//,
];

/** What macOS asks for before Bluetooth, and the files that it opens with Millpond. */
const IN_BUNDLE = [
  'NSBluetoothAlwaysUsageDescription',
  'CFBundleDocumentTypes',
  '<string>millpond</string>',
];

/** One line for each thing that is wrong; none where it is as it should be. */
export const packingFaults = (
  system: System,
  arch: string,
  packed: Packed,
  wantedFuses: Readonly<Record<string, boolean>>,
): readonly string[] => {
  const { fuses, files, beside, bundleInfo, doesNotRun } = packed;
  const names = new Set(files.map(({ name }) => name));
  const sqlite = `node_modules/better-sqlite3/prebuilds/${system}-${arch}.node`;
  const packages = new Set(
    files.map(({ name }) => /^node_modules\/((?:@[^/]+\/)?[^/]+)/.exec(name)?.[1]),
  );
  const natives = files.filter(({ name }) => name.endsWith('.node'));
  const isOurs = (name: string): boolean =>
    name === sqlite ||
    (system === 'linux'
      ? name.startsWith(`node_modules/@abandonware/bluetooth-hci-socket/prebuilds/linux-${arch}/`)
      : name.startsWith('node_modules/@abandonware/noble/build/Release/'));
  return [
    ...Object.entries(wantedFuses)
      .filter(([name, wanted]) => fuses[name] !== wanted)
      .map(([name, wanted]) => `fuse ${name} is not ${wanted ? 'on' : 'off'}`),
    ...[...NEEDED, sqlite].filter((name) => !names.has(name)).map((name) => `${name} is missing`),
    ...[...names]
      .filter((name) => NEVER.some((pattern) => pattern.test(name)))
      .map((name) => `${name} should not be in it`),
    ...BUNDLED.filter((name) => packages.has(name)).map((name) => `${name} is packed raw`),
    ...natives.flatMap(({ name, unpacked }) => [
      ...(isOurs(name) ? [] : [`${name} is of another system`]),
      ...(unpacked ? [] : [`${name} is not unpacked`]),
    ]),
    ...(system === 'linux' && !natives.some(({ name }) => name.includes('bluetooth-hci-socket'))
      ? ['the Bluetooth socket is missing']
      : []),
    ...(beside.includes('licences.txt') ? [] : ['the licences are missing']),
    ...(bundleInfo === null ? [] : IN_BUNDLE.filter((text) => !bundleInfo.includes(text))).map(
      (text) => `the bundle does not say ${text}`,
    ),
    ...(system === 'darwin' && !beside.includes('icon.icns') ? ['the icon is missing'] : []),
    ...(doesNotRun === null ? [] : [`the packed files do not run: ${doesNotRun}`]),
  ];
};
