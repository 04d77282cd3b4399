import { readFileSync } from 'node:fs';
import path from 'node:path';
import type { Configuration, FileSet } from 'electron-builder';
import { packedFolders, type Lock, type System } from './shippedPackages.ts';

/**
 * What an installer holds and how it is made. Files are an allow-list: the built program, and of each
 * package that it loads only what is loaded, with the native parts of the one system.
 */

/**
 * No Node by an environment variable or a flag, no debugger of Node's, no program but the archive
 * whose hash stands in the executable, no more rights for file addresses than a web page has.
 * Cookies stay unencrypted: there are none, and on macOS encryption would ask for the key chain.
 */
export const FUSES = {
  runAsNode: false,
  enableCookieEncryption: false,
  enableNodeOptionsEnvironmentVariable: false,
  enableNodeCliInspectArguments: false,
  enableEmbeddedAsarIntegrityValidation: true,
  onlyLoadAppFromAsar: true,
  loadBrowserProcessSpecificV8Snapshot: false,
  grantFileProtocolExtraPrivileges: false,
} as const satisfies Configuration['electronFuses'];

const BUILT = [
  'package.json',
  'dist/electron/*.js',
  'dist/electron/*.cjs',
  'dist/renderer/**',
  'dist/guest/**',
  'dist/fonts/**',
];

/** What a package holds that is read by people, compilers and tests only. */
const NEVER = [
  '!**/*.{md,markdown,map,ts,mts,cts,c,cc,cpp,h,hpp,gyp,gypi,yml,yaml}',
  '!**/{test,tests,example,examples,docs,.github}/**',
  '!node_modules/better-sqlite3/{deps,src,binding.gyp}/**',
  '!node_modules/better-sqlite3/prebuilds/**',
  '!node_modules/@abandonware/bluetooth-hci-socket/{src,include,patches,prebuilds}/**',
  '!node_modules/@abandonware/noble/{assets,build}/**',
];

const natives = (system: System, arch: string): readonly string[] => [
  `node_modules/better-sqlite3/prebuilds/${system}-${arch}.node`,
  ...(system === 'linux'
    ? [`node_modules/@abandonware/bluetooth-hci-socket/prebuilds/linux-${arch}/*.glibc.node`]
    : // Compiled where it is packed; there is no binary of it to be had.
      ['node_modules/@abandonware/noble/build/Release/*.node']),
];

const fileSet = (root: string, system: System, arch: string): FileSet => {
  const { packages } = JSON.parse(readFileSync(path.join(root, 'package-lock.json'), 'utf8')) as {
    readonly packages: Lock;
  };
  const packed = packedFolders(packages, system).map((folder) => `${folder}/**`);
  return {
    from: '.',
    to: '.',
    filter: ['!**/*', ...BUILT, ...packed, ...NEVER, ...natives(system, arch)],
  };
};

/** The packager's configuration for one system. */
export const packagerConfig = (root: string, system: System, arch: string): Configuration => ({
  appId: 'org.millpond.bench',
  productName: 'Millpond',
  copyright: 'Millpond authors',
  directories: { output: 'out', buildResources: 'build' },
  files: [fileSet(root, system, arch)],
  // By its own file system the program reads an archive; the system and native loaders do not.
  asar: true,
  asarUnpack: ['**/*.node'],
  extraResources: [{ from: 'dist/licences.txt', to: 'licences.txt' }],
  npmRebuild: false,
  electronFuses: { ...FUSES },
  fileAssociations: [
    {
      ext: 'millpond',
      name: 'Millpond recording',
      description: 'A recording of set-up pads',
      mimeType: 'application/x-millpond',
      role: 'Viewer',
    },
  ],
  linux: {
    target: ['AppImage', 'deb'],
    executableName: 'millpond',
    icon: 'build/icons/linux',
    category: 'Science',
    synopsis: 'The bench beside the set-up pads',
    maintainer: 'Millpond authors',
  },
  win: { target: ['nsis'], icon: 'build/icons/icon.ico' },
  nsis: { oneClick: false, perMachine: false, allowToChangeInstallationDirectory: true },
  mac: {
    target: ['dmg', 'zip'],
    icon: 'build/icons/icon.icns',
    category: 'public.app-category.utilities',
    hardenedRuntime: true,
    entitlements: 'build/entitlements.mac.plist',
    entitlementsInherit: 'build/entitlements.mac.plist',
    extendInfo: {
      NSBluetoothAlwaysUsageDescription: 'Millpond reads the set-up pads over Bluetooth.',
      NSBluetoothPeripheralUsageDescription: 'Millpond reads the set-up pads over Bluetooth.',
    },
  },
});
