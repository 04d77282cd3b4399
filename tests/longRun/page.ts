/**
 * `npm run longrun:page -- [--minutes N]`: the built program on the practice rig and its page in a
 * browser, in real time; what page and bench hold on to, minute by minute.
 */
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { parseArgs } from 'node:util';
import { openBrowser, startPageHost } from '../browser/openPage.ts';
import { slopeOf } from './slope.ts';

const GOAL = 5;
/** Rings fill and code is compiled. */
const WARM_MINUTES = 3;

const { values } = parseArgs({ options: { minutes: { type: 'string', default: '20' } } });
const minutes = Number(values.minutes);
if (!(minutes > WARM_MINUTES + 1)) {
  console.error(`--minutes takes a number over ${WARM_MINUTES + 1}`);
  process.exit(2);
}

/** The host and the processes it started (Linux's /proc; nothing elsewhere). */
const processesOf = (root: number): readonly number[] => {
  if (process.platform !== 'linux') return [];
  const parents = readdirSync('/proc')
    .filter((name) => /^\d+$/u.test(name))
    .flatMap((name) => {
      try {
        const stat = readFileSync(`/proc/${name}/stat`, 'utf8');
        return [
          [Number(name), Number(stat.slice(stat.lastIndexOf(')') + 2).split(' ')[1])] as const,
        ];
      } catch {
        return [];
      }
    });
  const found = [root];
  for (const pid of found)
    found.push(...parents.filter(([, of]) => of === pid).map(([own]) => own));
  return found;
};
const residentMegabytes = (pid: number): number =>
  Number(/^VmRSS:\s+(\d+)/mu.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1]) / 1000;
const openFiles = (pid: number): number => readdirSync(`/proc/${pid}/fd`).length;

const dir = mkdtempSync(path.join(os.tmpdir(), 'millpond-long-'));
const host = await startPageHost(['--data', dir, '--seed', '4', '--pads', 'rig']);
const browser = await openBrowser();
try {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  const page = await context.newPage();
  await page.goto(host.url);
  await page
    .getByText(/Still for/)
    .first()
    .waitFor();
  const devtools = await context.newCDPSession(page);
  await devtools.send('HeapProfiler.enable');
  await devtools.send('Performance.enable');
  const seen: {
    readonly at: number;
    readonly heap: number;
    readonly nodes: number;
    readonly listeners: number;
    readonly resident: number;
    readonly files: number;
  }[] = [];
  const began = performance.now();
  const perch = (way: string) =>
    page.getByRole('button', { name: `${way}¼ turn of the right front perch`, exact: true });
  for (let minute = 1; minute <= minutes; minute += 1) {
    // Somebody works with it: a perch up, a perch down, another screen and back.
    await perch(minute % 2 === 0 ? '+' : '−').click();
    await page.keyboard.press('Escape');
    for (const place of [/Season$/u, /Garage$/u, /Balance$/u])
      await page
        .getByRole('navigation', { name: 'Screens' })
        .getByRole('button', { name: place })
        .click();
    await pause(Math.max(0, began + minute * 60_000 - performance.now()));
    // Twice: what the first collection frees may hold more.
    await devtools.send('HeapProfiler.collectGarbage');
    await devtools.send('HeapProfiler.collectGarbage');
    const { metrics } = await devtools.send('Performance.getMetrics');
    const metric = (name: string): number =>
      metrics.find((each) => each.name === name)?.value ?? Number.NaN;
    const pids = processesOf(host.process.pid ?? 0);
    const held = {
      at: minute / 60,
      heap: metric('JSHeapUsedSize') / 1e6,
      nodes: metric('Nodes'),
      listeners: metric('JSEventListeners'),
      resident: pids.map(residentMegabytes).reduce((sum, each) => sum + each, 0),
      files: pids.map(openFiles).reduce((sum, each) => sum + each, 0),
    };
    seen.push(held);
    console.log(
      `${minute} min  page ${held.heap.toFixed(2)} MB, ${held.nodes} nodes, ${held.listeners} listeners; host and bench ${held.resident.toFixed(0)} MB, ${held.files} files`,
    );
  }
  const late = seen.filter(({ at }) => at * 60 > WARM_MINUTES);
  const slope = (of: 'heap' | 'resident'): number =>
    slopeOf(late.map((held) => ({ at: held.at, value: held[of] })));
  const [first, last] = [late[0], late.at(-1)];
  console.log(`${os.cpus().length} × ${os.cpus()[0]?.model}`);
  console.log(
    `page ${slope('heap').toFixed(2)} MB/h, goal < ${GOAL}: ${slope('heap') < GOAL ? 'met' : 'NOT MET'}; host and bench, resident ${slope('resident').toFixed(1)} MB/h`,
  );
  console.log(
    `nodes ${first?.nodes} to ${last?.nodes}, listeners ${first?.listeners} to ${last?.listeners}, open files ${first?.files} to ${last?.files}`,
  );
} finally {
  await browser.close();
  await host.stop();
  rmSync(dir, { recursive: true, force: true });
}
