/**
 * From an installed and built tree to the first live reading on the page: `npm run bench:start`. A
 * browser is already open, as a crew's is; the clock begins with the command.
 */
import { spawn } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { createInterface } from 'node:readline';
import { gzipSync } from 'node:zlib';
import type { Browser } from 'playwright-core';
import { openBrowser } from '../browser/openPage.ts';
import { median } from './live/processes.ts';

const RUNS = 5;
const GOAL = 3;
const GOAL_BYTES = 1.2e6;
const root = path.resolve(import.meta.dirname, '../..');

interface Times {
  /** Seconds from the command to the printed address. */
  readonly address: number;
  /** Seconds from the command to the first live corner figure on the page. */
  readonly live: number;
}

const run = async (browser: Browser): Promise<Times> => {
  const data = mkdtempSync(path.join(os.tmpdir(), 'millpond-bench-'));
  const began = performance.now();
  const seconds = (): number => (performance.now() - began) / 1000;
  const program = spawn(
    process.execPath,
    ['build/scripts/start.mjs', '--page', '--pads', 'rig', '--data', data, '--port', '0'],
    { cwd: root, stdio: ['ignore', 'pipe', 'ignore'] },
  );
  const lines = createInterface({ input: program.stdout });
  let url: string | undefined;
  for await (const line of lines) {
    url = /^Millpond is at (\S+)$/.exec(line)?.[1];
    if (url !== undefined) break;
  }
  if (url === undefined) throw new Error('no address was printed');
  const address = seconds();
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  const page = await context.newPage();
  await page.goto(url, { waitUntil: 'commit' });
  await page.waitForSelector('[data-status="live"]');
  const live = seconds();
  await context.close();
  program.kill('SIGTERM');
  await new Promise((resolve) => program.once('exit', resolve));
  rmSync(data, { recursive: true, force: true });
  return { address, live };
};

const bundle = (folder: string): number =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && !entry.name.endsWith('.map'))
    .reduce(
      (sum, entry) => sum + gzipSync(readFileSync(path.join(entry.parentPath, entry.name))).length,
      0,
    );

const browser = await openBrowser();
const times: Times[] = [];
for (let index = 0; index < RUNS; index += 1) times.push(await run(browser));
await browser.close();

const line = (what: string, values: readonly number[]): string =>
  `${what.padEnd(34)}${Math.min(...values).toFixed(2)} / ${median(values).toFixed(2)} / ${Math.max(...values).toFixed(2)} s`;
const live = times.map((each) => each.live);
console.log(`${os.cpus().length} × ${os.cpus()[0]?.model}, load ${os.loadavg()[0]?.toFixed(2)}`);
console.log(
  line(
    'to the address, min/median/max',
    times.map(({ address }) => address),
  ),
);
console.log(
  `${line('to the first live reading', live)}, goal ≤ ${GOAL} s: ${median(live) <= GOAL ? 'met' : 'NOT MET'}`,
);
const bytes = bundle(path.join(root, 'dist/renderer'));
console.log(
  `page with fonts, gzip: ${(bytes / 1e6).toFixed(2)} MB, goal ≤ ${GOAL_BYTES / 1e6}: ${bytes <= GOAL_BYTES ? 'met' : 'NOT MET'}`,
);
