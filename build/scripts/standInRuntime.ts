import { copyFileSync, cpSync, mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import type { System } from '../shippedPackages.ts';

/**
 * A folder that looks to the packager like Electron's runtime of a system, made where none can be
 * had. It holds the fuse wire as the real one does, so fuses are set and read back for real; it
 * does not run.
 */

/** The mark before the fuses in the executable, and a wire of version 1 with all eight as delivered. */
const FUSE_WIRE = Buffer.concat([
  Buffer.from('dL7pKGdnNz796PbbjQWNKmHXBZaB9tsX', 'latin1'),
  Buffer.from([1, 8]),
  Buffer.from('10110001', 'latin1'),
]);

const plist = (entries: Readonly<Record<string, string>>): string =>
  [
    '<?xml version="1.0" encoding="UTF-8"?>',
    '<plist version="1.0"><dict>',
    ...Object.entries(entries).map(([key, value]) => `<key>${key}</key><string>${value}</string>`),
    '</dict></plist>\n',
  ].join('\n');

const bundle = (folder: string, name: string): void => {
  mkdirSync(path.join(folder, 'Contents/MacOS'), { recursive: true });
  writeFileSync(path.join(folder, 'Contents/MacOS', name), 'stand-in', { mode: 0o755 });
  writeFileSync(
    path.join(folder, 'Contents/Info.plist'),
    plist({ CFBundleExecutable: name, CFBundleName: name, CFBundleIdentifier: 'org.example.it' }),
  );
};

const makeMac = (folder: string): void => {
  const app = path.join(folder, 'Electron.app');
  bundle(app, 'Electron');
  const frameworks = path.join(app, 'Contents/Frameworks');
  for (const kind of ['', ' (Renderer)', ' (GPU)', ' (Plugin)'])
    bundle(path.join(frameworks, `Electron Helper${kind}.app`), `Electron Helper${kind}`);
  const framework = path.join(frameworks, 'Electron Framework.framework');
  mkdirSync(path.join(framework, 'Versions/A/Resources'), { recursive: true });
  writeFileSync(path.join(framework, 'Electron Framework'), FUSE_WIRE);
  mkdirSync(path.join(app, 'Contents/Resources'), { recursive: true });
};

/** Makes it in an empty folder. `exe` is any Windows program that has version information. */
export const makeStandInRuntime = (folder: string, system: System, exe: string): void => {
  mkdirSync(path.join(folder, 'resources'), { recursive: true });
  if (system === 'darwin') makeMac(folder);
  else if (system === 'linux')
    writeFileSync(path.join(folder, 'electron'), FUSE_WIRE, { mode: 0o755 });
  else {
    copyFileSync(exe, path.join(folder, 'electron.exe'));
    // After the last section: the packager's editor of resources keeps what follows a program.
    writeFileSync(path.join(folder, 'electron.exe'), FUSE_WIRE, { flag: 'a' });
  }
  writeFileSync(path.join(folder, 'LICENSE'), 'stand-in\n');
  cpSync(path.join(folder, 'LICENSE'), path.join(folder, 'LICENSES.chromium.html'));
};
