import os from 'node:os';
import path from 'node:path';
import {
  app,
  crashReporter,
  dialog,
  ipcMain,
  MessageChannelMain,
  type BrowserWindow,
  type IpcMainEvent,
} from 'electron';
import { second } from '../core/units.ts';
import { createBenchSupervisor, type BenchSupervisor } from './benchSupervisor.ts';
import { BENCH_PORT } from './channels.ts';
import { createRealScheduler } from './clock.ts';
import { desktopArguments, playFile } from './desktopArguments.ts';
import { keepWindow, lastWindow, offerFile, setMenu } from './desktopShell.ts';
import {
  confine,
  denyPermissions,
  openWindow,
  registerScheme,
  serveScheme,
} from './desktopWindow.ts';
import { benchFlags, parseFlags, type Flags } from './flags.ts';
import { createGate, type Gate } from './gate.ts';
import { createCrashKeeper, type CrashKeeper } from './keepCrashes.ts';
import { openLocalPage } from './localPage.ts';
import { loadPageAssets } from './pageAssets.ts';
import { createUtilityBench } from './utilityBench.ts';

/** Entry of the desktop app: one window, one bench process, and ports between them. */

const log = (line: string): void => {
  process.stderr.write(`desktop: ${line}\n`);
  crashes?.heard(line);
};
let crashes: CrashKeeper | null = null;

const here = import.meta.dirname;
const assetsDir = path.join(here, '../renderer');
const scheduler = createRealScheduler();

const argv = process.argv.slice(app.isPackaged ? 1 : 2);
/** macOS names an opened file by an event, which may come before there is a window to ask in. */
let early: string | null = null;
let opened = (file: string): void => {
  early = file;
};
app.on('open-file', (event, file) => {
  event.preventDefault();
  opened(file);
});

/** Gives a frame of ours a port, and joins the other end of it to the bench as a screen. */
const handPort = (
  event: IpcMainEvent,
  request: unknown,
  gate: Gate,
  bench: BenchSupervisor,
): void => {
  const frame = event.senderFrame;
  const sender = { is: 'frame', url: frame?.url ?? '', top: frame?.parent === null } as const;
  const asked = gate.admit(BENCH_PORT, sender, request);
  if (!asked.ok || !frame) return;
  const { port1: ours, port2: theirs } = new MessageChannelMain();
  const screen = bench.join((text) => ours.postMessage(text));
  ours.on('message', ({ data }: { readonly data: unknown }) => {
    const text = gate.admit('screen text', { is: 'screen' }, data);
    if (text.ok) screen.receive(text.payload);
  });
  ours.on('close', () => screen.leave());
  ours.start();
  frame.postMessage(BENCH_PORT, asked.payload.ticket, [theirs]);
};

/** Every end that nobody asked for leaves a report in the data folder; none leaves the computer. */
const keepCrashes = (folder: string): void => {
  const keeper = createCrashKeeper({ folder, version: app.getVersion(), log });
  crashes = keeper;
  // The runtime's own reports lie in the folder of the window.
  crashReporter.start({ uploadToServer: false });
  app.on('child-process-gone', (_event, { type, reason, exitCode, name }) => {
    if (reason === 'clean-exit') return;
    keeper.keep(type === 'Utility' ? 'bench' : 'helper', `${name ?? type}: ${reason}, ${exitCode}`);
  });
  const fail = (error: unknown): void => {
    const how = error instanceof Error ? (error.stack ?? error.message) : String(error);
    keeper.keep('main', how);
    process.stderr.write(`${how}\n`);
    dialog.showErrorBox(
      'Millpond has ended',
      `What was captured is kept. A report is in ${folder}.`,
    );
    app.exit(1);
  };
  process.on('uncaughtException', fail);
  process.on('unhandledRejection', fail);
};

/** Runs `stop` before the app is allowed to end. */
const stopBeforeQuit = (stop: () => Promise<void>): void => {
  let stopping = false;
  app.on('before-quit', (event) => {
    event.preventDefault();
    if (stopping) return;
    stopping = true;
    stop().then(
      () => app.exit(0),
      (error: unknown) => {
        log(String(error));
        app.exit(1);
      },
    );
  });
};

const crashFolder = (flags: Flags): string => path.join(flags.dataDir, 'crash-reports');

const runWindow = (flags: Flags): void => {
  const assets = loadPageAssets(assetsDir);
  const gate = createGate(log);
  const spawn = createUtilityBench(path.join(here, 'benchProcess.js'), benchFlags(flags));
  const bench = createBenchSupervisor({ spawn, scheduler, gate, log });
  const folders = {
    dataDir: flags.dataDir,
    crashes: crashFolder(flags),
    // A program inside an archive cannot hand a file of it to the system.
    licences: app.isPackaged
      ? path.join(process.resourcesPath, 'licences.txt')
      : path.join(here, '../licences.txt'),
  };
  setMenu(folders, log);
  ipcMain.on(BENCH_PORT, (event, request: unknown) => handPort(event, request, gate, bench));
  denyPermissions();
  serveScheme(assets);

  const window: BrowserWindow = openWindow(path.join(here, 'preload.cjs'), lastWindow());
  window.on('close', () => keepWindow(window, log));
  stopBeforeQuit(() => {
    if (!window.isDestroyed()) keepWindow(window, log);
    return bench.stop();
  });
  window.webContents.on('render-process-gone', (_event, { reason }) => {
    log(`the window's page ended (${reason})`);
    if (reason !== 'clean-exit') crashes?.keep('page', reason);
    // A second's pause: a page that cannot live must not take the whole computer.
    if (reason !== 'clean-exit') scheduler.after('window reload', second(1), () => window.reload());
  });
  opened = (file) => {
    const args = playFile({ flags: ['--data', flags.dataDir], file });
    offerFile(file, app.isPackaged ? args : [process.argv[1] ?? '', ...args]).catch(
      (error: unknown) => log(String(error)),
    );
  };
  if (early !== null) opened(early);
  app.on('second-instance', (_event, _argv, _folder, data) => {
    if (window.isMinimized()) window.restore();
    window.focus();
    // Said by our own second program, not parsed from a command line that Chromium has reordered.
    const { file } = data as { readonly file?: unknown };
    if (typeof file === 'string') opened(file);
  });
};

const runPage = async (flags: Flags): Promise<void> => {
  const spawn = createUtilityBench(path.join(here, 'benchProcess.js'), benchFlags(flags));
  const page = await openLocalPage({ flags, assetsDir, spawn, scheduler, log });
  stopBeforeQuit(page.close);
  process.stdout.write(`Millpond is at ${page.address}\n`);
};

const run = async (flags: Flags): Promise<void> => {
  // Everything of the window lies in the data folder too, and the lock is the data folder's.
  app.setPath('userData', path.join(flags.dataDir, 'window'));
  const { recordingFile } = flags;
  if (!app.requestSingleInstanceLock(recordingFile === null ? {} : { file: recordingFile })) {
    log('Millpond is open already; its window was brought to the front.');
    return app.exit(0);
  }
  keepCrashes(crashFolder(flags));
  registerScheme();
  app.on('web-contents-created', (_event, contents) => confine(contents, log));
  app.on('window-all-closed', () => app.quit());
  await app.whenReady();
  if (flags.page) await runPage(flags);
  else runWindow(flags);
};

const parsed = parseFlags(playFile(desktopArguments(argv)), {
  platform: process.platform,
  env: process.env,
  home: os.homedir(),
  cwd: process.cwd(),
});
if (parsed.kind === 'flags')
  run(parsed.flags).catch((error: unknown) => {
    process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
    app.exit(1);
  });
else {
  (parsed.kind === 'help' ? process.stdout : process.stderr).write(
    parsed.kind === 'help' ? parsed.text : `${parsed.why}\n`,
  );
  app.exit(parsed.kind === 'help' ? 0 : 2);
}
