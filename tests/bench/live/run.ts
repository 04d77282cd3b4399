/**
 * The live screen against floors and a reference, in interleaved blocks: `npm run bench:live --
 * [--quick] [--loads N] [--json FILE]`. Ratios are taken within one round; milliseconds drift, ratios less.
 */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { parseArgs } from 'node:util';
import type { Browser } from 'playwright-core';
import { openBrowser } from '../../browser/openPage.ts';
import { buildPage } from './buildPage.ts';
import { median, quantile, spread, treeSeconds } from './processes.ts';
import { VARIANTS, type Measured, type Variant } from './scene.ts';
import { startSender, type Load, type Sender } from './sender.ts';

const { values: flags } = parseArgs({
  options: {
    quick: { type: 'boolean', default: false },
    loads: { type: 'string', default: '3' },
    json: { type: 'string' },
  },
});
const ROUNDS = flags.quick ? 1 : 3;
const WARM_SECONDS = flags.quick ? 1 : 2;
const BLOCK_SECONDS = flags.quick ? 2 : 6;

const LOADS: readonly Load[] = [
  { name: '4 × 80 Hz', rate: 80, clump: 0 },
  { name: '4 × 320 Hz', rate: 320, clump: 0 },
  { name: '4 × 80 Hz in clumps of 0.25 s', rate: 80, clump: 0.25 },
];

interface Block extends Measured {
  readonly variant: Variant;
  /** Share of the block in which the page's main thread worked. */
  readonly busy: number;
  /** Processor seconds a second, all processes of the browser. */
  readonly cpu: number;
}

const runBlock = async (
  browser: Browser,
  browserPid: number,
  sender: Sender,
  variant: Variant,
): Promise<Block> => {
  const page = await browser.newPage({ viewport: { width: 1600, height: 900 } });
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  await page.goto(`${sender.origin}/#${encodeURIComponent(variant)}`);
  await page.waitForTimeout(WARM_SECONDS * 1000);
  const devtools = await page.context().newCDPSession(page);
  await devtools.send('Performance.enable');
  const taskSeconds = async (): Promise<number> => {
    const { metrics } = await devtools.send('Performance.getMetrics');
    return metrics.find(({ name }) => name === 'TaskDuration')?.value ?? Number.NaN;
  };
  const [tasksBefore, cpuBefore] = [await taskSeconds(), treeSeconds(browserPid)];
  const measured = await page.evaluate((seconds) => window.bench.measure(seconds), BLOCK_SECONDS);
  const [tasksAfter, cpuAfter] = [await taskSeconds(), treeSeconds(browserPid)];
  await page.close();
  if (complaints.length > 0) throw new Error(`${variant}: ${complaints[0]}`);
  return {
    ...measured,
    variant,
    busy: (tasksAfter - tasksBefore) / measured.seconds,
    cpu: (cpuAfter - cpuBefore) / measured.seconds,
  };
};

const row = (cells: readonly (string | number)[]): string =>
  cells.map((cell, index) => String(cell).padEnd(index === 0 ? 14 : 12)).join('');

const of = (blocks: readonly Block[], variant: Variant): readonly Block[] =>
  blocks.filter((block) => block.variant === variant);

const summary = (blocks: readonly Block[], variant: Variant) => {
  const mine = of(blocks, variant);
  const pooled = (pick: (block: Block) => readonly number[]): readonly number[] =>
    mine.flatMap(pick);
  const intervals = pooled(({ intervals }) => intervals);
  const latencies = pooled(({ latencies }) => latencies);
  return {
    frames: (1000 * intervals.length) / intervals.reduce((sum, each) => sum + each, 0),
    frameP99: quantile(intervals, 0.99),
    commits: median(mine.map(({ commits, seconds }) => commits / seconds / 4)),
    p50: quantile(latencies, 0.5),
    p95: quantile(latencies, 0.95),
    p99: quantile(latencies, 0.99),
    busy: median(mine.map(({ busy }) => busy)),
    cpu: median(mine.map(({ cpu }) => cpu)),
    longTasks: mine.reduce((sum, { longTasks }) => sum + longTasks.length, 0),
    seen: mine.reduce((sum, { spikesSeen }) => sum + spikesSeen, 0),
    planted: mine.reduce((sum, { spikesPlanted }) => sum + spikesPlanted, 0),
  };
};

/** Ratios of ours to the reference, block by block in the order they ran. */
const ratios = (blocks: readonly Block[], pick: (block: Block) => number): readonly number[] => {
  const [ours, reference] = [of(blocks, 'ours'), of(blocks, 'uPlot')];
  return ours.map((block, index) => pick(block) / pick(reference[index] ?? block));
};

const verdict = (met: boolean, conclusive: boolean): string =>
  !conclusive ? 'inconclusive' : met ? 'met' : 'NOT MET';

const report = (load: Load, blocks: readonly Block[]): void => {
  console.log(`\n${load.name}, ${of(blocks, 'ours').length} blocks of ${BLOCK_SECONDS} s each`);
  console.log(
    row([
      'variant',
      'frames/s',
      'p99 ms',
      'commits/s',
      'p50 ms',
      'p95',
      'p99',
      'busy %',
      'cpu %',
      'long',
      'spikes',
    ]),
  );
  for (const variant of VARIANTS) {
    const s = summary(blocks, variant);
    const ms = (value: number): string => value.toFixed(1);
    console.log(
      row([
        variant,
        ms(s.frames),
        ms(s.frameP99),
        ms(s.commits),
        ms(s.p50),
        ms(s.p95),
        ms(s.p99),
        ms(100 * s.busy),
        ms(100 * s.cpu),
        s.longTasks,
        `${s.seen}/${s.planted}`,
      ]),
    );
  }
  const ours = summary(blocks, 'ours');
  const floor = summary(blocks, 'receive only');
  const main = ratios(blocks, ({ busy }) => busy);
  const cpu = ratios(blocks, (block) => block.cpu);
  const steady = (pick: (block: Block) => number): boolean =>
    spread(of(blocks, 'uPlot').map(pick)) <= 0.25;
  const range = (all: readonly number[]): string =>
    `${median(all).toFixed(2)} (${Math.min(...all).toFixed(2)} to ${Math.max(...all).toFixed(2)})`;
  const lines: readonly (readonly [string, string, string])[] = [
    [
      'frames ≥ 59/s, p99 ≤ 22 ms, no task over 50 ms',
      `${ours.frames.toFixed(1)}/s, ${ours.frameP99.toFixed(1)} ms, ${ours.longTasks}`,
      verdict(ours.frames >= 59 && ours.frameP99 <= 22 && ours.longTasks === 0, floor.frames >= 59),
    ],
    [
      'chart commits ≥ 58/s',
      ours.commits.toFixed(1),
      load.clump > 0
        ? 'not judged: nothing new comes'
        : verdict(ours.commits >= 58, floor.frames >= 59),
    ],
    [
      'receipt to paint: p95 ≤ floor + 4, p99 ≤ floor + 8 ms',
      `+${(ours.p95 - floor.p95).toFixed(1)}, +${(ours.p99 - floor.p99).toFixed(1)} ms`,
      verdict(ours.p95 <= floor.p95 + 4 && ours.p99 <= floor.p99 + 8, true),
    ],
    [
      'main thread against uPlot ≤ 1.0, then 0.7',
      range(main),
      verdict(
        median(main) <= 1,
        steady(({ busy }) => busy),
      ),
    ],
    [
      'all-process CPU against uPlot ≤ 1.5, then 1.2',
      range(cpu),
      verdict(
        median(cpu) <= 1.5,
        steady((block) => block.cpu),
      ),
    ],
    [
      'every planted spike is in what we draw',
      `${ours.seen}/${ours.planted}`,
      verdict(ours.seen === ours.planted, true),
    ],
  ];
  for (const [goal, found, met] of lines)
    console.log(`  ${goal.padEnd(56)}${found.padEnd(26)}${met}`);
};

const folder = mkdtempSync(path.join(os.tmpdir(), 'millpond-bench-'));
await buildPage(folder);
const browser = await openBrowser();
const session = await browser.newBrowserCDPSession();
const { processInfo } = await session.send('SystemInfo.getProcessInfo');
const browserPid = processInfo.find(({ type }) => type === 'browser')?.id ?? 0;
console.log(
  `${os.cpus().length} × ${os.cpus()[0]?.model}, Node ${process.version}, Chromium ${browser.version()}, load ${os.loadavg()[0]?.toFixed(2)}`,
);
const sender = await startSender(folder, LOADS[0] as Load);
const all: Record<string, readonly Block[]> = {};
for (const load of LOADS.slice(0, flags.quick ? 1 : Number(flags.loads))) {
  sender.load = load;
  const blocks: Block[] = [];
  for (let round = 0; round < ROUNDS; round += 1)
    for (const variant of [...VARIANTS, ...VARIANTS.toReversed()])
      blocks.push(await runBlock(browser, browserPid, sender, variant));
  report(load, blocks);
  all[load.name] = blocks;
}
if (flags.json) {
  const brief = Object.fromEntries(
    Object.entries(all).map(([name, blocks]) => [
      name,
      Object.fromEntries(VARIANTS.map((variant) => [variant, summary(blocks, variant)])),
    ]),
  );
  writeFileSync(flags.json, `${JSON.stringify(brief, null, 2)}\n`);
}
sender.close();
await browser.close();
rmSync(folder, { recursive: true, force: true });
