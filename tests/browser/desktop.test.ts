import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, onTestFinished } from 'vitest';
import { windowOptions } from '../../electron/security.ts';
import { startDesktop, type Desktop } from '../electron/desktopProgram.ts';
import { benchPid, DESKTOP_STEPS, HOSTILE_ADDRESSES } from '../electron/desktopScript.ts';
import { standInArguments } from '../electron/standIn/standInArguments.ts';
import { temporaryFolder } from '../support/temporaryFolder.ts';
import { chromium, inBrowser } from './chromium.ts';

/**
 * The built desktop program on Node, under a stand-in for Electron that drives a real Chromium. It
 * shows order, ports, gate and restart. The sandbox and the separate worlds of page and preload it
 * cannot show: those are compared as the options that Electron would be given.
 */

const start = async (flags: readonly string[]): Promise<Desktop> => {
  const desktop = await startDesktop(process.execPath, standInArguments(flags), {
    CHROME_PATH: chromium ?? '',
  });
  onTestFinished(async () => void (await desktop.stop()));
  return desktop;
};

/** An ended process may still be listed (state Z) until whoever adopted it has read how it ended. */
const isRunning = (pid: number): boolean => {
  const { stdout } = spawnSync('ps', ['-o', 'stat=', '-p', String(pid)], { encoding: 'utf8' });
  return stdout.trim() !== '' && !stdout.trim().startsWith('Z');
};

const countOf = (desktop: Desktop, what: RegExp): number =>
  desktop.said.filter((line) => what.test(line)).length;

inBrowser.test(
  'window, bridge, capture, killed bench, hostile addresses, reload, end',
  async () => {
    const dir = temporaryFolder();
    const desktop = await start(['--data', dir, '--pads', 'rig']);
    for (const { name, run } of DESKTOP_STEPS)
      await run(desktop).catch((error: unknown) => {
        throw new Error(`${name}\n${desktop.said.join('\n')}`, { cause: error });
      });

    // By link, by new-window link and by script, each address of a network was put to the policy; the
    // others Chromium or the page's own content policy had stopped before.
    const ofNetwork = HOSTILE_ADDRESSES.filter((address) => /^https?:/.test(address));
    expect(countOf(desktop, /a link was not followed/)).toBe(3 * ofNetwork.length);
    // The killed bench has left a report, and the window where it was.
    const reports = readdirSync(path.join(dir, 'crash-reports'));
    expect(reports).toEqual([expect.stringMatching(/^crash-\d{15}-bench\.txt$/)]);
    const report = readFileSync(path.join(dir, 'crash-reports', reports[0] ?? ''), 'utf8');
    expect(report).toContain('Millpond bench: killed');
    expect(JSON.parse(readFileSync(path.join(dir, 'window/window-state.json'), 'utf8'))).toEqual({
      x: 10,
      y: 20,
      width: 1280,
      height: 800,
      maximized: false,
    });
  },
);

inBrowser.test(
  'what Electron is given: options whole, no permission, no menu to reload',
  async () => {
    const dir = temporaryFolder({
      'window/window-state.json': JSON.stringify({
        x: 100,
        y: 50,
        width: 1200,
        height: 760,
        maximized: false,
      }),
    });
    const desktop = await start(['--data', dir]);
    const permissions = ['bluetooth', 'media', 'hid', 'serial', 'usb', 'geolocation', 'unknown'];
    const report = await desktop.ask({
      permissions,
      fire: ['will-attach-webview', 'select-bluetooth-device'],
      press: ['Help', 'About Millpond'],
    });
    const preload = path.resolve(import.meta.dirname, '../../dist/electron/preload.cjs');
    expect(report.windows).toEqual([
      { ...windowOptions(preload), x: 100, y: 50, width: 1200, height: 760 },
    ]);
    expect(windowOptions(preload).webPreferences).toMatchObject({
      sandbox: true,
      contextIsolation: true,
      nodeIntegration: false,
    });
    expect(report.schemes).toEqual([
      { scheme: 'millpond', privileges: { standard: true, secure: true, supportFetchAPI: true } },
    ]);
    expect(report.permissions).toEqual(
      Object.fromEntries(permissions.map((one) => [one, [false, false, false, {}]])),
    );
    expect(report.stopped).toEqual({
      'will-attach-webview': true,
      'select-bluetooth-device': true,
    });
    expect(report.crashReporter).toEqual([{ uploadToServer: false }]);
    expect(report.openedOutside).toEqual([]);
    expect(JSON.stringify(report.menus)).not.toMatch(/reload|devtools/i);
    const { dialogs } = await desktop.ask({ press: ['Help', 'Licences'] });
    expect(dialogs).toHaveLength(1);
    expect(JSON.stringify(dialogs)).toMatch(/About Millpond.*Everything is kept in/);
    const { openedOutside } = await desktop.ask();
    expect(openedOutside).toEqual([path.resolve(import.meta.dirname, '../../dist/licences.txt')]);
    expect(await desktop.stop()).toBe(0);
  },
);

inBrowser.test('a frame that is not the window’s own page gets no port', async () => {
  const desktop = await start(['--data', temporaryFolder()]);
  await desktop.page.evaluate(() => {
    const inner = document.createElement('iframe');
    document.body.append(inner);
    const { standInToMain } = inner.contentWindow as unknown as {
      standInToMain(message: object): Promise<void>;
    };
    return standInToMain({ kind: 'ipc', channel: 'bench port', values: [{ ticket: 1 }] });
  });
  await expect
    .poll(() => countOf(desktop, /refused a message on "bench port": the frame is not/))
    .toBe(1);
});

inBrowser.test('a second program hands its file to the first and ends', async () => {
  const dir = temporaryFolder();
  const file = path.join(temporaryFolder(), 'saturday.millpond');
  writeFileSync(file, '');
  const desktop = await start(['--data', dir]);
  await expect(start(['--data', dir, file])).rejects.toThrow(/open already/);
  await expect.poll(async () => (await desktop.ask()).relaunches.length).toBe(1);
  const { dialogs, relaunches } = await desktop.ask();
  expect(dialogs).toEqual([expect.objectContaining({ message: 'Play saturday.millpond?' })]);
  expect(JSON.stringify(relaunches)).toContain(JSON.stringify(file));
  expect(await desktop.ended).toBe(0);
});

inBrowser.test('a bench that hangs is ended by force when the window is closed', async () => {
  const desktop = await start(['--data', temporaryFolder(), '--pads', 'rig']);
  await desktop.page
    .getByText(/Still for/)
    .first()
    .waitFor();
  const bench = benchPid(desktop.pid) ?? 0;
  expect(bench).toBeGreaterThan(0);
  // A stopped process takes no SIGTERM, as one that hangs in a loop does not.
  process.kill(bench, 'SIGSTOP');
  await desktop.page.close();
  expect(await desktop.ended).toBe(0);
  expect(countOf(desktop, /did not stop in time and is ended/)).toBe(1);
  await expect.poll(() => isRunning(bench)).toBe(false);
});
