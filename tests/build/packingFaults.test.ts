import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { FUSES, packagerConfig } from '../../build/electronBuilder.ts';
import { packingFaults, type Packed } from '../../build/packingFaults.ts';
import { packedFolders, shippedFolders, type Lock } from '../../build/shippedPackages.ts';

const root = path.resolve(import.meta.dirname, '../..');
const { packages } = JSON.parse(readFileSync(path.join(root, 'package-lock.json'), 'utf8')) as {
  readonly packages: Lock;
};

const SQLITE = 'node_modules/better-sqlite3/prebuilds/linux-x64.node';
const SOCKET =
  'node_modules/@abandonware/bluetooth-hci-socket/prebuilds/linux-x64/socket.glibc.node';

const good: Packed = {
  fuses: FUSES,
  files: [
    ...[
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
    ].map((name) => ({ name, unpacked: false })),
    { name: SQLITE, unpacked: true },
    { name: SOCKET, unpacked: true },
  ],
  beside: ['app.asar', 'app.asar.unpacked', 'licences.txt'],
  bundleInfo: null,
  doesNotRun: null,
};

const faults = (packed: Partial<Packed>): readonly string[] =>
  packingFaults('linux', 'x64', { ...good, ...packed }, FUSES);
const withFile = (name: string, unpacked = false): readonly string[] =>
  faults({ files: [...good.files, { name, unpacked }] });
const without = (name: string): readonly string[] =>
  faults({ files: good.files.filter((file) => file.name !== name) });

test('every planted fault is found, and nothing else', () => {
  expect(faults({})).toEqual([]);
  expect(faults({ fuses: { ...FUSES, runAsNode: true } })).toEqual(['fuse runAsNode is not off']);
  expect(faults({ fuses: {} })).toHaveLength(Object.keys(FUSES).length);
  expect(without(SQLITE)).toEqual([`${SQLITE} is missing`]);
  expect(without(SOCKET)).toEqual(['the Bluetooth socket is missing']);
  expect(withFile('node_modules/react/index.js')).toEqual(['react is packed raw']);
  expect(withFile('dist/electron/main.js.map')).toEqual([
    'dist/electron/main.js.map should not be in it',
  ]);
  expect(withFile('core/units.js')).toEqual(['core/units.js should not be in it']);
  const other = 'node_modules/better-sqlite3/prebuilds/win32-x64.node';
  expect(withFile(other, true)).toEqual([`${other} is of another system`]);
  expect(faults({ files: good.files.map((file) => ({ ...file, unpacked: false })) })).toEqual([
    `${SQLITE} is not unpacked`,
    `${SOCKET} is not unpacked`,
  ]);
  expect(faults({ beside: ['app.asar'] })).toEqual(['the licences are missing']);
  expect(faults({ bundleInfo: '' })).toHaveLength(3);
  expect(faults({ doesNotRun: 'no' })).toEqual(['the packed files do not run: no']);
});

test('fuses, whole', () => {
  expect(FUSES).toEqual({
    runAsNode: false,
    enableCookieEncryption: false,
    enableNodeOptionsEnvironmentVariable: false,
    enableNodeCliInspectArguments: false,
    enableEmbeddedAsarIntegrityValidation: true,
    onlyLoadAppFromAsar: true,
    loadBrowserProcessSpecificV8Snapshot: false,
    grantFileProtocolExtraPrivileges: false,
  });
  expect(packagerConfig(root, 'linux', 'x64').electronFuses).toEqual(FUSES);
});

test('what is packed is what is loaded; what ships has a licence of its own', () => {
  const linux = packedFolders(packages, 'linux');
  const windows = packedFolders(packages, 'win32');
  expect(linux.filter((folder) => !windows.includes(folder))).toEqual([
    'node_modules/@abandonware/bluetooth-hci-socket',
  ]);
  expect(linux).toEqual(
    expect.arrayContaining(['node_modules/fontkit', 'node_modules/dijkstrajs']),
  );
  expect(linux.filter((folder) => /react|yargs|node-addon-api|node-linux/.test(folder))).toEqual(
    [],
  );
  const shipped = shippedFolders(packages);
  expect(shipped).toEqual(expect.arrayContaining([...linux, 'node_modules/react']));
  expect(shipped.filter((folder) => /electron|vite|typescript/.test(folder))).toEqual([]);
});

test('a package that is not in the lock file is not passed over', () => {
  const lock = { 'node_modules/better-sqlite3': { dependencies: { absent: '1' } } };
  expect(() => packedFolders(lock, 'win32')).toThrow('absent (needed by node_modules/better');
});
