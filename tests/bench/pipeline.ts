/**
 * What a sample costs from bytes to balance: `node tests/bench/pipeline.ts [blocks]`. Four pads at
 * 80 Hz, a car let down on them, then at rest: decode, filter, ring, force, settling with its running
 * average, and the balance sixty times a second of the samples' own time, or at every verdict while
 * settled, when it does not change in between. Prints nanoseconds a sample,
 * stage by stage, and checks what came out against brute force: counts read byte by byte, sums without
 * tricks, balance by the textbook's formula. Fails when the two differ.
 *
 * Goal: at most 500 ns a sample.
 */
import assert from 'node:assert/strict';
import { cpus, loadavg } from 'node:os';
import { balance } from '../../core/balance/balance.ts';
import { nominalCalibration, toForce } from '../../core/calibration/calibration.ts';
import type { Balance } from '../../core/contract/records.ts';
import { CORNERS, perCorner, type Corner, type PerCorner } from '../../core/corners.ts';
import { measured } from '../../core/measured.ts';
import { SAMPLE_FLAGS, type PadSample } from '../../core/reading.ts';
import { createRing } from '../../core/ring.ts';
import { createSettle } from '../../core/signal/settle.ts';
import { second } from '../../core/units.ts';
import { createFilter } from '../../drivers/pads/filter/filter.ts';
import { decodeLoads, encodeLoads } from '../../drivers/pads/protocol/cornerPad.ts';
import { createNoise } from '../core/signal/noise.ts';

const RATE = 80;
const SECONDS = 40;
const PER_PACKET = 4;
const PACKETS = (RATE * SECONDS) / PER_PACKET;
const SAMPLES = PACKETS * PER_PACKET * CORNERS.length;
const FRAME = 1 / 60;
const BLOCKS = Number(process.argv[2] ?? 21);
const WARM_UP = 4;
const GOAL = 500;

const RATING = { ratedLoad: 500, countsAtRatedLoad: 4_194_304, resolution: 1 };
const CALIBRATION = nominalCalibration(RATING);
const ZERO = 12_345;
const GRAVITY = 9.813654;
const CAR = { wheelbase: 2.7, trackFront: 1.68, trackRear: 1.65, cross: 'RF+LR' } as const;
const LOADS: PerCorner<number> = { LF: 312.411, RF: 307.464, LR: 344.789, RR: 340.336 };

/** Notifications of every pad in the order in which they come; each pad has one glitch at rest. */
const makeBytes = (): { readonly pad: number; readonly bytes: Uint8Array }[] => {
  const noise = createNoise(2024);
  const countsPerKilogram = RATING.countsAtRatedLoad / RATING.ratedLoad;
  const load = (corner: Corner, t: number): number => {
    const since = t - 3;
    if (since < 0) return 0;
    return LOADS[corner] * (1 - Math.exp(-6 * since) * Math.cos(18 * since));
  };
  return Array.from({ length: PACKETS }, (_, packet) =>
    CORNERS.map((corner, pad) => {
      const counts = Array.from({ length: PER_PACKET }, (__, k) => {
        const index = packet * PER_PACKET + k;
        if (index === 2900 + 7 * pad) return 8_000_000;
        const kilograms = load(corner, index / RATE) + 0.005 * noise.normal();
        return Math.round(ZERO + countsPerKilogram * kilograms);
      });
      return {
        pad,
        bytes: encodeLoads({
          sequence: packet * PER_PACKET,
          clockMs: Math.round((packet * PER_PACKET * 1000) / RATE),
          rate: RATE,
          counts,
          flags: 0,
        }),
      };
    }),
  ).flat();
};

type Stage = 'decode' | 'filter' | 'ring and force' | 'settle' | 'balance';
const STAGES: readonly Stage[] = ['decode', 'filter', 'ring and force', 'settle', 'balance'];

interface Outcome {
  readonly nanoseconds: number;
  readonly balance: Balance | null;
  readonly window: { readonly from: number; readonly to: number } | null;
  readonly spikes: number;
}

const notifications = makeBytes();

/** Runs every notification through the stages up to `last`. */
const run = (last: Stage): Outcome => {
  const upTo = STAGES.indexOf(last);
  const settle = createSettle();
  /** What belongs to one pad, as in the application. */
  const lanes = CORNERS.map((corner) => ({
    filter: createFilter({ rate: RATE }),
    ring: createRing({ capacity: 2048, columns: ['raw', 'clean', 'smooth', 'flags'] }),
    settle: settle.corners[corner],
    taken: 0,
  }));
  type Lane = (typeof lanes)[number];
  let found: Balance | null = null;
  let window: Outcome['window'] = null;
  let spikes = 0;

  const take = (lane: Lane, sample: PadSample): void => {
    const isSpike = (sample.flags & SAMPLE_FLAGS.spike) !== 0;
    if (isSpike) spikes += 1;
    if (upTo < 2) return;
    lane.ring.push(sample);
    const force = toForce(CALIBRATION, ZERO, sample.clean);
    if (upTo >= 3 && !isSpike) lane.settle.push(sample.t, force);
  };
  /** What a screen is told: the settled means while there are some, else the newest smooth values. */
  const frame = (): void => {
    const { settled } = settle.now();
    if (settled && window && settled.to === window.to) return;
    window = settled;
    const forces = perCorner((_, pad) => {
      const lane = lanes[pad] as Lane;
      const still = settled ? lane.settle.now().settled : null;
      if (still) return measured(still.mean, still.u, still.dof);
      const smooth = lane.ring.valueAt('smooth', lane.ring.end - 1);
      return measured(toForce(CALIBRATION, ZERO, smooth), 1, Infinity);
    });
    found = balance({ forces, gravity: GRAVITY, ...CAR });
  };

  let frames = 1;
  const begun = performance.now();
  for (const { pad, bytes } of notifications) {
    const decoded = decodeLoads(bytes);
    if (!decoded.ok) throw new Error(decoded.why);
    if (upTo < 1) continue;
    const lane = lanes[pad] as Lane;
    const { counts, flags } = decoded.packet;
    for (const raw of counts) {
      const index = lane.taken;
      lane.taken = index + 1;
      const sample = lane.filter.push({ index, t: second(index / RATE), raw, flags });
      if (sample) take(lane, sample);
    }
    if (upTo < 4 || pad !== 3) continue;
    for (; lane.taken / RATE >= frames * FRAME; frames += 1) frame();
  }
  const nanoseconds = ((performance.now() - begun) * 1e6) / SAMPLES;
  return { nanoseconds, balance: found, window, spikes };
};

/** The last settled window's balance from the bytes, with nothing of the above. */
const byBruteForce = (window: { readonly from: number; readonly to: number }): number[] => {
  const tick = 0.1;
  const means = CORNERS.map((_, pad) => {
    const counts = notifications
      .filter((one) => one.pad === pad)
      .flatMap(({ bytes }) =>
        Array.from({ length: (bytes.length - 7) / 3 }, (_, k) => {
          const [low = 0, middle = 0, high = 0] = bytes.subarray(7 + 3 * k);
          const value = low + 256 * middle + 65536 * high;
          return value >= 0x800000 ? value - 0x1000000 : value;
        }),
      );
    // Long windows are means of blocks of one tick, each the mean of its samples.
    const blocks = new Map<number, number[]>();
    counts.forEach((raw, index) => {
      const block = Math.ceil(index / RATE / tick);
      const inside =
        block > Math.round(window.from / tick) && block <= Math.round(window.to / tick);
      if (!inside || index === 2900 + 7 * pad) return;
      blocks.set(block, [...(blocks.get(block) ?? []), ((raw - ZERO) * 500 * 9.80665) / 4_194_304]);
    });
    const mean = (values: readonly number[]): number =>
      values.reduce((total, value) => total + value, 0) / values.length;
    const long = window.to - window.from > 2;
    return long
      ? mean([...blocks.values()].map(mean))
      : mean([...blocks.values()].flatMap((block) => block));
  });
  const [lf = NaN, rf = NaN, lr = NaN, rr = NaN] = means;
  const total = lf + rf + lr + rr;
  return [
    total / GRAVITY,
    (lf + rf) / total,
    (rf + lr) / total,
    (2.7 * (lr + rr)) / total,
    ((lf - rf) * 0.84 + (lr - rr) * 0.825) / total,
  ];
};

const median = (values: readonly number[]): number =>
  values.toSorted((a, b) => a - b)[values.length >> 1] ?? NaN;

for (let block = 0; block < WARM_UP; block += 1) for (const stage of STAGES) run(stage);
const times = new Map<Stage, number[]>(STAGES.map((stage) => [stage, []]));
let whole: Outcome | null = null;
for (let block = 0; block < BLOCKS; block += 1) {
  // Forwards and backwards in turn, so that a busy moment does not always hit the same stage.
  for (const stage of block % 2 === 0 ? STAGES : STAGES.toReversed()) {
    const outcome = run(stage);
    times.get(stage)?.push(outcome.nanoseconds);
    if (stage === 'balance') whole = outcome;
  }
}

assert(whole?.balance && whole.window, 'the car was never settled');
assert.equal(whole.spikes, CORNERS.length, 'one glitch of each pad is rejected');
const { total, frontShare, crossShare, cgBehindFrontAxle, cgLeftOfCentre } = whole.balance;
[total, frontShare, crossShare, cgBehindFrontAxle, cgLeftOfCentre].forEach(({ value }, index) => {
  const expected = byBruteForce(whole.window as { from: number; to: number })[index] as number;
  assert(
    Math.abs(value - expected) <= 1e-9 * Math.max(1, Math.abs(expected)),
    `${value} is not ${expected}`,
  );
});
assert(
  Math.abs(total.value - 1305 * (9.80665 / GRAVITY)) < 0.05,
  `${total.value} kg is not the car`,
);

console.log(
  `${cpus()[0]?.model ?? 'unknown processor'}, load ${loadavg()[0]?.toFixed(2)}, node ${process.version}`,
);
console.log(
  `${SAMPLES} samples a block, ${BLOCKS} blocks; nanoseconds a sample, median (least to greatest)`,
);
let before = 0;
for (const stage of STAGES) {
  const own = times.get(stage) ?? [];
  const now = median(own);
  console.log(
    `  up to ${stage.padEnd(15)} ${now.toFixed(0).padStart(5)} (${Math.min(...own).toFixed(0)} to ${Math.max(...own).toFixed(0)}), this step ${(now - before).toFixed(0)}`,
  );
  before = now;
}
console.log(`equal to brute force; goal ${GOAL} ns a sample: ${before <= GOAL ? 'met' : 'MISSED'}`);
