/**
 * What the page costs whoever opens it: `npm run bench:page`. First paint, shifts of what is seen, long
 * tasks and the first live reading of a cold page on the practice rig, the median of seven. The host
 * runs already; `bench:start` has the whole start and the bytes of the build.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import type { Browser, Cookie } from 'playwright-core';
import { openBrowser, startPageHost } from '../browser/openPage.ts';
import { median } from './live/processes.ts';

const OPENINGS = 7;
/** A task over this is long: https://www.w3.org/TR/longtasks-1/ */
const LONG_TASK_MS = 50;

interface Opening {
  readonly paint: number;
  readonly live: number;
  readonly shift: number;
  readonly blocked: number;
}

/** One cold opening: a context of its own, nothing cached. */
const openOnce = async (
  browser: Browser,
  { url, cookies }: { readonly url: string; readonly cookies: readonly Cookie[] },
): Promise<Opening> => {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  await context.addCookies(cookies);
  const page = await context.newPage();
  await page.addInitScript((longMs) => {
    const noted = { shift: 0, blocked: 0, live: Number.NaN };
    Object.assign(globalThis, { noted });
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries())
        noted.shift += (entry as PerformanceEntry & { readonly value: number }).value;
    }).observe({ type: 'layout-shift', buffered: true });
    new PerformanceObserver((list) => {
      for (const { duration } of list.getEntries()) noted.blocked += duration - longMs;
    }).observe({ type: 'longtask', buffered: true });
    const look = (): void => {
      const figure = document.querySelector('[data-corner="LF"][data-status="live"]');
      if (figure && /\d/u.test(figure.textContent)) noted.live = performance.now();
      else requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
  }, LONG_TASK_MS);
  await page.goto(url);
  await page.waitForFunction(
    () => (globalThis as unknown as { noted: { live: number } }).noted.live > 0,
  );
  const opening = await page.evaluate(() => {
    const { noted } = globalThis as unknown as { noted: Omit<Opening, 'paint'> };
    const paint = performance.getEntriesByName('first-contentful-paint')[0]?.startTime;
    return { ...noted, paint: paint ?? Number.NaN };
  });
  await context.close();
  return opening;
};

console.log(`${os.cpus().length} × ${os.cpus()[0]?.model}, load ${os.loadavg()[0]?.toFixed(2)}`);
const dir = mkdtempSync(path.join(os.tmpdir(), 'millpond-bench-'));
const host = await startPageHost(['--data', dir, '--seed', '4', '--pads', 'rig']);
const browser = await openBrowser();
try {
  const { origin } = new URL(host.url);
  // The token of the address is good for one cookie: every opening brings that.
  const first = await browser.newContext();
  const page = await first.newPage();
  await page.goto(host.url);
  await page.locator('[data-corner="LF"][data-status="live"]').waitFor();
  const cookies = await first.cookies(origin);
  await first.close();
  const openings: Opening[] = [];
  for (let n = 0; n < OPENINGS; n += 1) {
    openings.push(await openOnce(browser, { url: origin, cookies }));
  }
  const of = (pick: keyof Opening): string => median(openings.map((each) => each[pick])).toFixed(0);
  console.log(`first paint ${of('paint')} ms, first live reading ${of('live')} ms`);
  console.log(
    `blocked by long tasks ${of('blocked')} ms; shift of what is seen ${median(openings.map(({ shift }) => shift)).toFixed(3)}`,
  );
} finally {
  await browser.close();
  await host.stop();
  rmSync(dir, { recursive: true, force: true });
}
