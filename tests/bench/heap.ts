/**
 * What the live traces leave behind: heap growth of the page with four traces beyond that of a page
 * with figures alone, both fed the same for the same time. `npm run bench:heap -- [--minutes N]`.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { parseArgs } from 'node:util';
import type { Browser } from 'playwright-core';
import { openBrowser } from '../browser/openPage.ts';
import { buildPage } from './live/buildPage.ts';
import type { Variant } from './live/scene.ts';
import { startSender } from './live/sender.ts';

const { values } = parseArgs({ options: { minutes: { type: 'string', default: '10' } } });
const minutes = Number(values.minutes);
if (!(minutes > 0)) {
  console.error('--minutes takes a number above zero');
  process.exit(2);
}
/** Rings fill, code is compiled, the collector finds its size. */
const WARM_MS = 30_000;
const GOAL = 0.3;

interface Watched {
  readonly variant: Variant;
  heapMegabytes(): Promise<number>;
}

const watch = async (browser: Browser, origin: string, variant: Variant): Promise<Watched> => {
  const context = await browser.newContext({ viewport: { width: 1600, height: 900 } });
  const page = await context.newPage();
  await page.goto(`${origin}/#${encodeURIComponent(variant)}`);
  const devtools = await context.newCDPSession(page);
  await devtools.send('HeapProfiler.enable');
  return {
    variant,
    heapMegabytes: async () => {
      // Twice: what the first collection frees may hold more.
      await devtools.send('HeapProfiler.collectGarbage');
      await devtools.send('HeapProfiler.collectGarbage');
      const { usedSize } = await devtools.send('Runtime.getHeapUsage');
      return usedSize / 1e6;
    },
  };
};

const folder = mkdtempSync(path.join(os.tmpdir(), 'millpond-bench-'));
await buildPage(folder);
const browser = await openBrowser();
const sender = await startSender(folder, { name: '4 × 80 Hz', rate: 80, clump: 0 });
const pages = [
  await watch(browser, sender.origin, 'figures'),
  await watch(browser, sender.origin, 'ours'),
] as const;
await pause(WARM_MS);
const before = await Promise.all(pages.map((page) => page.heapMegabytes()));
await pause(minutes * 60_000);
const after = await Promise.all(pages.map((page) => page.heapMegabytes()));

const growth = pages.map((page, index) => {
  const [from, to] = [before[index] ?? Number.NaN, after[index] ?? Number.NaN];
  const rate = (to - from) / minutes;
  console.log(
    `${page.variant.padEnd(12)}${from.toFixed(2)} MB, after ${minutes} min ${to.toFixed(2)} MB: ${rate.toFixed(3)} MB/min`,
  );
  return rate;
});
const beyond = (growth[1] ?? Number.NaN) - (growth[0] ?? Number.NaN);
const enough = minutes >= 10 ? '' : ' (10 minutes are asked for)';
console.log(
  `beyond figures alone: ${beyond.toFixed(3)} MB/min, goal ≤ ${GOAL}: ${beyond <= GOAL ? 'met' : 'NOT MET'}${enough}`,
);
sender.close();
await browser.close();
rmSync(folder, { recursive: true, force: true });
