/**
 * From the pad to the bar of a call on the screen: `npm run bench:call`. The built program on the
 * practice rig with its own bench process, and its page in a browser, all in real time on this machine.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import type { Locator, Page } from 'playwright-core';
import { openBrowser, startPageHost } from '../browser/openPage.ts';

const SECONDS = 30;
const CORNER = /^(?<name>left front|right front|left rear|right rear)/iu;

/** What the page notes of itself; times of the page's clock in ms, samples of the bench's in s. */
interface Noted {
  /** Samples of the called corner in each frame that changed the bar, and when that was painted. */
  painted: { readonly samples: readonly number[]; readonly at: number }[];
  corner: string;
  /** Least of arrival less the bench's time of a frame, ms: how far the clocks are apart, and one way. */
  apart: number;
  /** The quickest command, page to bench and back, ms. */
  quickest: number;
  frames: number;
}

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));
const quantile = (values: readonly number[], q: number): number => {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(q * sorted.length))] ?? Number.NaN;
};
const button = (page: Page, name: string): Locator =>
  page.getByRole('button', { name, exact: true });

/** Runs in the page before its scripts: notes frames as they arrive and the bar as it is painted. */
const note = (): void => {
  const noted: Noted = {
    painted: [],
    corner: '',
    apart: Infinity,
    quickest: Infinity,
    frames: 0,
  };
  (globalThis as unknown as { noted: Noted }).noted = noted;
  /** Of the newest frame, until the bar changed with it. */
  let samples: readonly number[] = [];
  const askedAt = new Map<number, number>();
  const Socket = WebSocket;
  globalThis.WebSocket = class extends Socket {
    constructor(address: string | URL, protocols?: string | string[]) {
      super(address, protocols);
      this.addEventListener('message', ({ data }) => {
        const at = performance.now();
        const { n, frame } = JSON.parse(String(data)) as {
          readonly n?: number;
          readonly frame?: {
            readonly t: number;
            readonly corners: Readonly<Record<string, { readonly t: readonly number[] }>>;
          };
        };
        const asked = n === undefined ? undefined : askedAt.get(n);
        if (asked !== undefined) noted.quickest = Math.min(noted.quickest, at - asked);
        if (!frame) return;
        noted.frames += 1;
        noted.apart = Math.min(noted.apart, at - frame.t * 1000);
        samples = frame.corners[noted.corner]?.t ?? [];
      });
    }
    override send(text: string): void {
      const { n } = JSON.parse(text) as { readonly n?: number };
      if (n !== undefined) askedAt.set(n, performance.now());
      super.send(text);
    }
  };
  /** Called after the paint that follows. */
  const afterPaint = (run: () => void): void =>
    void requestAnimationFrame(() => {
      const { port1, port2 } = new MessageChannel();
      port1.onmessage = () => {
        port1.close();
        run();
      };
      port2.postMessage(null);
    });
  new MutationObserver((changes) => {
    const isBar = changes.some(
      ({ target }) => target instanceof Element && target.closest('[role="progressbar"]') !== null,
    );
    if (!isBar) return;
    const shown = samples;
    samples = [];
    afterPaint(() => noted.painted.push({ samples: shown, at: performance.now() }));
  }).observe(document, { subtree: true, childList: true, attributes: true });
};

/** To a call under way on the practice car; gives the name of its corner. */
const toACall = async (page: Page): Promise<string> => {
  await button(page, 'Practise on the rig').click();
  await page
    .getByText(/Still for/)
    .first()
    .waitFor();
  await page.keyboard.press('4');
  await page.getByLabel(/^Cross RF/).fill('50 %');
  await page.getByLabel(/^Cross RF/).press('Enter');
  const first = page.getByRole('group', { name: 'LF adjuster' });
  await first.getByLabel('Steps in a turn').fill('4');
  await first.getByLabel('Steps in a turn').press('Enter');
  await first.getByText('yes', { exact: true }).click();
  await first.getByRole('button', { name: 'The same at all four' }).click();
  await page.getByText('Car stored.').waitFor();
  await button(page, 'Read the pads and plan').click();
  await button(page, 'Take: One corner').click();
  await page.getByRole('region', { name: 'Ways to turn' }).getByText('Taken').waitFor();
  await button(page, 'Start calls').click();
  const text = await page.getByRole('region', { name: 'Call' }).innerText();
  const name = CORNER.exec(text)?.groups?.['name']?.toLowerCase();
  if (name === undefined) throw new Error(`no call in: ${text}`);
  return name;
};

const dir = mkdtempSync(path.join(os.tmpdir(), 'millpond-bench-'));
const host = await startPageHost(['--data', dir, '--seed', '4']);
const browser = await openBrowser();
try {
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
  await page.addInitScript(note);
  await page.goto(host.url);
  const name = await toACall(page);
  const corner = name
    .split(' ')
    .map((word) => word[0]?.toUpperCase())
    .join('');
  await page.getByText(corner, { exact: true }).last().click();
  await page.evaluate((called) => {
    const { noted } = globalThis as unknown as { noted: Noted };
    Object.assign(noted, { corner: called, painted: [], frames: 0 });
  }, corner);
  for (let second = 0; second < SECONDS; second += 1) {
    await button(page, `${second % 2 === 0 ? '+' : '−'}¼ turn of the ${name} perch`).click();
    await pause(1000);
  }
  const noted = await page.evaluate(() => (globalThis as unknown as { noted: Noted }).noted);
  const delays = noted.painted.flatMap(({ samples, at }) =>
    samples.map((sample) => at - noted.apart - sample * 1000),
  );
  const way = noted.quickest / 2;
  const ms = (q: number): string => quantile(delays, q).toFixed(0);
  console.log(`${os.cpus().length} × ${os.cpus()[0]?.model}, load ${os.loadavg()[0]?.toFixed(2)}`);
  console.log(
    `${(noted.frames / SECONDS).toFixed(0)} frames/s, the bar painted ${(noted.painted.length / SECONDS).toFixed(0)} times a second, ${delays.length} samples seen in it`,
  );
  console.log(
    `pad to the bar, every sample   p50/p95/p99 ${ms(0.5)} / ${ms(0.95)} / ${ms(0.99)} ms, and ${way.toFixed(1)} ms for the way of the quickest frame`,
  );
  const p95 = quantile(delays, 0.95) + way;
  console.log(
    `goal p95 ≤ 100 ms: ${p95 <= 100 ? 'met' : 'NOT MET'} (${p95.toFixed(0)} with that way)`,
  );
} finally {
  await browser.close();
  await host.stop();
  rmSync(dir, { recursive: true, force: true });
}
