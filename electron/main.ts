import os from 'node:os';
import path from 'node:path';
import { app, ipcMain, MessageChannelMain, type BrowserWindow, type IpcMainEvent } from 'electron';
import { second } from '../core/units.ts';
import { createBenchSupervisor, type BenchSupervisor } from './benchSupervisor.ts';
import { BENCH_PORT } from './channels.ts';
import { createRealScheduler } from './clock.ts';
import {
  confine,
  denyPermissions,
  openWindow,
  registerScheme,
  serveScheme,
} from './desktopWindow.ts';
import { benchFlags, parseFlags, type Flags } from './flags.ts';
import { createGate, type Gate } from './gate.ts';
import { openLocalPage } from './localPage.ts';
import { loadPageAssets } from './pageAssets.ts';
import { createUtilityBench } from './utilityBench.ts';

/** Entry of the desktop app: one window, one bench process, and ports between them. */

const log = (line: string): void => void process.stderr.write(`desktop: ${line}\n`);

const here = import.meta.dirname;
const assetsDir = path.join(here, '../renderer');
const scheduler = createRealScheduler();

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

const runWindow = (flags: Flags): void => {
  const assets = loadPageAssets(assetsDir);
  const gate = createGate(log);
  const spawn = createUtilityBench(path.join(here, 'benchProcess.js'), benchFlags(flags));
  const bench = createBenchSupervisor({ spawn, scheduler, gate, log });
  stopBeforeQuit(bench.stop);
  ipcMain.on(BENCH_PORT, (event, request: unknown) => handPort(event, request, gate, bench));
  denyPermissions();
  serveScheme(assets);

  const window: BrowserWindow = openWindow(path.join(here, 'preload.cjs'));
  window.webContents.on('render-process-gone', (_event, { reason }) => {
    log(`the window's page ended (${reason})`);
    // A second's pause: a page that cannot live must not take the whole computer.
    if (reason !== 'clean-exit') scheduler.after('window reload', second(1), () => window.reload());
  });
  app.on('second-instance', () => {
    if (window.isMinimized()) window.restore();
    window.focus();
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
  if (!app.requestSingleInstanceLock()) {
    log('Millpond is open already; its window was brought to the front.');
    return app.exit(0);
  }
  registerScheme();
  app.on('web-contents-created', (_event, contents) => confine(contents, log));
  app.on('window-all-closed', () => app.quit());
  await app.whenReady();
  if (flags.page) await runPage(flags);
  else runWindow(flags);
};

const parsed = parseFlags(process.argv.slice(app.isPackaged ? 1 : 2), {
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
