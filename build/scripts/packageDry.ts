import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { extractAll, getRawHeader } from '@electron/asar';
import fuses from '@electron/fuses';
import { Arch, build, Platform } from 'electron-builder';
import { FUSES, packagerConfig } from '../electronBuilder.ts';
import { packingFaults, type Packed } from '../packingFaults.ts';
import { SYSTEMS, type System } from '../shippedPackages.ts';
import { buildIfChanged } from './buildIfChanged.ts';
import { giveUp, rootFolder } from './prepare.mjs';
import { runPacked } from './runPacked.ts';
import { makeStandInRuntime } from './standInRuntime.ts';
import { writeLicences } from './writeLicences.ts';

/**
 * `npm run package:dry`: packs for each system (or those named) with a stand-in for Electron's
 * runtime, unsigned, and reads back what came of it: the fuses and every file. It makes no installer
 * and shows nothing of a real runtime.
 */

const EXE = path.join(rootFolder, 'node_modules/electron-winstaller/vendor/7z-x64.exe');
const ARCH = 'x64';
/** A fuse that is on is the letter 1 in the wire. */
const ON = '1'.charCodeAt(0);

const named = process.argv.slice(2);
const systems = SYSTEMS.filter((system) => named.length === 0 || named.includes(system));
if (systems.length === 0) giveUp(`Which system? ${SYSTEMS.join(', ')}`);

const platforms = { linux: Platform.LINUX, win32: Platform.WINDOWS, darwin: Platform.MAC } as const;
const places = {
  linux: { folder: 'linux-unpacked', program: 'millpond', resources: 'resources' },
  win32: { folder: 'win-unpacked', program: 'Millpond.exe', resources: 'resources' },
  darwin: { folder: 'mac', program: 'Millpond.app', resources: 'Millpond.app/Contents/Resources' },
} as const;

interface Entry {
  readonly files?: Readonly<Record<string, Entry>>;
  readonly unpacked?: boolean;
}

const filesOf = (entry: Entry, under = ''): readonly { name: string; unpacked: boolean }[] =>
  Object.entries(entry.files ?? {}).flatMap(([name, one]) =>
    one.files
      ? filesOf(one, `${under}${name}/`)
      : [{ name: `${under}${name}`, unpacked: one.unpacked === true }],
  );

const fusesOf = async (program: string): Promise<Readonly<Record<string, boolean>>> => {
  const wire = await fuses.getCurrentFuseWire(program);
  return Object.fromEntries(
    Object.keys(FUSES).map((name) => {
      const index =
        fuses.FuseV1Options[
          `${name.charAt(0).toUpperCase()}${name.slice(1)}` as keyof typeof fuses.FuseV1Options
        ];
      return [name, wire[index] === ON];
    }),
  );
};

const pack = async (system: System, folder: string): Promise<Packed> => {
  const runtime = path.join(folder, 'runtime');
  makeStandInRuntime(runtime, system, EXE);
  const output = path.join(folder, 'out');
  const config = packagerConfig(rootFolder, system, ARCH);
  await build({
    projectDir: rootFolder,
    publish: 'never',
    targets: platforms[system].createTarget('dir', Arch.x64),
    config: {
      ...config,
      electronDist: runtime,
      directories: { ...config.directories, output },
      mac: { ...config.mac, identity: null },
    },
  });
  const place = places[system];
  const at = path.join(output, place.folder);
  const resources = path.join(at, place.resources);
  const archive = path.join(resources, 'app.asar');
  // Only this system's native parts can be loaded here.
  const runs = system === process.platform && ARCH === process.arch;
  if (runs) extractAll(archive, path.join(folder, 'app'));
  return {
    fuses: await fusesOf(path.join(at, place.program)),
    files: filesOf(getRawHeader(archive).header as Entry),
    beside: readdirSync(resources),
    bundleInfo:
      system === 'darwin' ? readFileSync(path.join(resources, '../Info.plist'), 'utf8') : null,
    doesNotRun: runs ? await runPacked(path.join(folder, 'app')) : null,
  };
};

const failed = await buildIfChanged(rootFolder);
if (failed !== null) giveUp(failed);
process.stdout.write(`licences of ${writeLicences(rootFolder)} packages\n`);

let wrong = 0;
for (const system of systems) {
  const folder = mkdtempSync(path.join(tmpdir(), `millpond-package-${system}-`));
  const started = performance.now();
  const packed = await pack(system, folder);
  const faults = packingFaults(system, ARCH, packed, FUSES);
  const seconds = ((performance.now() - started) / 1000).toFixed(0);
  wrong += faults.length;
  process.stdout.write(
    `${system}: ${packed.files.length} files, ${faults.length === 0 ? 'good' : 'WRONG'}, ${seconds} s\n`,
  );
  for (const fault of faults) process.stdout.write(`  ${fault}\n`);
  for (const { name } of packed.files)
    if (name.endsWith('.node')) process.stdout.write(`  native, unpacked: ${name}\n`);
  if (system !== 'linux' && !packed.files.some(({ name }) => name.includes('noble/build/')))
    process.stdout.write('  without Bluetooth: its native part is compiled on that system only\n');
  rmSync(folder, { recursive: true, force: true });
}
process.exit(wrong > 0 ? 1 : 0);
