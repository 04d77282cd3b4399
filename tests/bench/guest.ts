/**
 * From the pad to the phone: `npm run bench:guest`. The whole bench on the practice rig, its port for
 * guests and a phone's page in a browser, all in real time on this machine; without Wi-Fi between.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { createBench } from '../../core/bench/bench.ts';
import type { PerCorner } from '../../core/corners.ts';
import { createOpenPads } from '../../drivers/pads/openPads.ts';
import { padDescriptions } from '../../drivers/pads/protocol/description/descriptionPort.ts';
import { ballastPort } from '../../drivers/solver/ballastPort.ts';
import { openStore } from '../../drivers/store/open.ts';
import { createRealScheduler, newId, wallClock } from '../../electron/clock.ts';
import { createPapers } from '../../electron/papers.ts';
import { openBrowser } from '../browser/openPage.ts';
import { joinBench } from '../support/benchScreen.ts';
import { FONT_FOLDER } from '../support/fontFolder.ts';
import { testGuests } from '../support/testGuests.ts';

const SECONDS = 30;
const FREEZES = 10;
const FREEZE_MS = 1500;

/** One view as the page had it, on the page's clock, ms. */
interface Drawn {
  /** Newest sample of the left front, bench time, s. */
  readonly sample: number;
  readonly at: number;
}
interface Noted {
  drawn: Drawn[];
  heardSample: number;
  isOld: boolean;
  /** When something grey was first in sight after a silence, and the sample that was newest then. */
  grey: Drawn[];
}

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));
const quantile = (values: readonly number[], q: number): number => {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(q * sorted.length))] ?? Number.NaN;
};

const dir = mkdtempSync(path.join(os.tmpdir(), 'millpond-bench-'));
const scheduler = createRealScheduler();
const opened = openStore({ dir, wallClock, newId, now: scheduler.now });
if (!opened.ok) throw new Error(opened.fault.code);
const guests = testGuests({ scheduler, newId, wallClock });
const bench = createBench({
  openPads: createOpenPads({ scheduler, seed: 1 }),
  descriptions: padDescriptions,
  paper: createPapers(FONT_FOLDER),
  ballast: ballastPort,
  guests,
  store: opened.store,
  copies: null,
  machine: 'test',
  scheduler,
  wallClock,
  newId,
  source: 'rig',
  restarted: false,
});
/** Every sample of the left front, bench time, s. */
const samples: number[] = [];
/** How old each was when a frame of the bench first had it, ms: transport, and up to a 60th of a second. */
const inBench: number[] = [];
const screen = joinBench(bench, ({ corners }) => {
  samples.push(...corners.LF.t);
  inBench.push(...corners.LF.t.map((sample) => (scheduler.now() - sample) * 1000));
});
const isLive = (corners: PerCorner<{ readonly status: string }>): boolean =>
  Object.values(corners).every(({ status }) => status === 'live');
await screen.until(({ frame }) => frame !== null && isLive(frame.corners));

await screen.command({ do: 'open guest view', isOn: true });
const invited = await screen.command({ do: 'invite guest', name: 'Phone 1' });
if (invited.is !== 'guest invited') throw new Error(invited.is);

const browser = await openBrowser();
const page = await browser.newPage({ viewport: { width: 360, height: 740 } });
await page.addInitScript(() => {
  const noted: Noted = { drawn: [], heardSample: 0, isOld: false, grey: [] };
  (globalThis as unknown as { noted: Noted }).noted = noted;
  /** After the paint that follows. */
  const afterPaint = (run: () => void): void =>
    void requestAnimationFrame(() => {
      const { port1, port2 } = new MessageChannel();
      port1.onmessage = () => {
        port1.close();
        run();
      };
      port2.postMessage(null);
    });
  const Socket = WebSocket;
  const Noting = class extends Socket {
    constructor(address: string | URL) {
      super(address);
      this.addEventListener('message', ({ data }) => {
        const { view } = JSON.parse(String(data)) as {
          view: { t: number; corners: { LF: { age: number } } };
        };
        const sample = view.t - view.corners.LF.age;
        noted.heardSample = sample;
        afterPaint(() => noted.drawn.push({ sample, at: performance.now() }));
      });
    }
  };
  globalThis.WebSocket = Noting;
  const look = (): void => {
    const isOld = document.querySelector('.corner[data-corner="LF"][data-status="stale"]') !== null;
    if (isOld && !noted.isOld) {
      const sample = noted.heardSample;
      afterPaint(() => noted.grey.push({ sample, at: performance.now() }));
    }
    noted.isOld = isOld;
    requestAnimationFrame(look);
  };
  look();
});
await page.goto(invited.codes[0]!.url);
await page.locator('.corner[data-status="live"]').first().waitFor();

/** Milliseconds to add to the page's clock for the bench's: of the quickest of some questions. */
let offset = 0;
let quickest = Infinity;
for (let index = 0; index < 200; index += 1) {
  const before = performance.now();
  const there = await page.evaluate(() => performance.now());
  const after = performance.now();
  if (after - before >= quickest) continue;
  quickest = after - before;
  offset = (before + after) / 2 - there;
}

await page.evaluate(() => {
  (globalThis as unknown as { noted: Noted }).noted.drawn = [];
});
const from = performance.now() / 1000;
for (let second = 0; second < SECONDS; second += 1) {
  await screen.command({
    do: 'turn practice perch',
    corner: 'RF',
    turns: second % 2 === 0 ? 0.25 : -0.25,
  });
  await pause(1000);
}
const to = performance.now() / 1000 - 1;
const drawn = await page.evaluate(() => (globalThis as unknown as { noted: Noted }).noted.drawn);

const delays = (views: readonly Drawn[]): readonly number[] =>
  samples
    .filter((sample) => sample > from && sample < to)
    .flatMap((sample) => {
      const first = views.find((view) => view.sample >= sample - 1e-6);
      return first ? [first.at + offset - sample * 1000] : [];
    });
const tell = (what: string, views: readonly Drawn[], goal: number | null): void => {
  const found = delays(views);
  const p95 = quantile(found, 0.95);
  const [p50, p99] = [quantile(found, 0.5), quantile(found, 0.99)];
  const verdict = goal === null ? '' : `, goal p95 ≤ ${goal}: ${p95 <= goal ? 'met' : 'NOT MET'}`;
  console.log(
    `${what.padEnd(44)}p50/p95/p99 ${p50.toFixed(0)} / ${p95.toFixed(0)} / ${p99.toFixed(0)} ms${verdict}`,
  );
};
console.log(`${os.cpus().length} × ${os.cpus()[0]?.model}, load ${os.loadavg()[0]?.toFixed(2)}`);
console.log(
  `${(drawn.length / SECONDS).toFixed(1)} views/s, ${samples.length} samples, clocks joined within ${(quickest / 2).toFixed(1)} ms`,
);
console.log(
  `pad to the bench's own frames, of that         p50/p95/p99 ${[0.5, 0.95, 0.99].map((q) => quantile(inBench.slice(-SECONDS * 80), q).toFixed(0)).join(' / ')} ms`,
);
tell('pad to phone, every sample', drawn, 100);
tell(
  'the same had every other view been sent',
  drawn.filter((_, index) => index % 2 === 0),
  null,
);

// The bench stops as a whole: nothing of it can tell the page.
await page.evaluate(() => {
  (globalThis as unknown as { noted: Noted }).noted.grey = [];
});
const still = new Int32Array(new SharedArrayBuffer(4));
for (let index = 0; index < FREEZES; index += 1) {
  Atomics.wait(still, 0, 0, FREEZE_MS);
  await pause(700);
}
const grey = await page.evaluate(() => (globalThis as unknown as { noted: Noted }).noted.grey);
const ages = grey.map(({ sample, at }) => at + offset - sample * 1000);
console.log(
  `a bench that stops: grey in ${grey.length} of ${FREEZES}, the newest sample then ${quantile(ages, 0.5).toFixed(0)} ms old, at most ${Math.max(...ages).toFixed(0)} ms`,
);

await browser.close();
screen.leave();
await bench.stop();
opened.store.close();
rmSync(dir, { recursive: true, force: true });
