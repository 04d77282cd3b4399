import { describe, expect, test } from 'vitest';
import { createClockMap } from '../../../drivers/pads/clockMap.ts';
import { lowerLine } from '../../../drivers/pads/lowerLine.ts';
import { createRandom } from '../../../drivers/pads/rig/random.ts';

interface Link {
  readonly seed: number;
  readonly seconds: number;
  /** Connection interval, s. */
  readonly interval: number;
  /** Skew of the pad's clock. */
  readonly skew?: (t: number) => number;
  readonly loss?: number;
  /** Now and then nothing gets through for so long, s. */
  readonly burst?: number;
}

/**
 * A pad at 80 Hz, four samples a notification, its clock in whole ms; a notification leaves at the
 * next connection event, or a later one when the event is lost, and never overtakes. The link's own
 * least delay is 1 ms. Gives for each notification the error of the mapped time of its newest sample.
 */
const simulate = ({ seed, seconds, interval, skew = () => 0, loss = 0, burst = 0 }: Link) => {
  const random = createRandom(seed).uniform;
  const map = createClockMap();
  const phase = random() * interval;
  const least = 0.001;
  const errors: { t: number; error: number; mapped: number }[] = [];
  let pad = 1234.5;
  let lastArrival = 0;
  let blockedUntil = 0;
  for (let t = 10; t < 10 + seconds; t += 0.05) {
    pad += 0.05 * (1 + skew(t));
    if (burst > 0 && random() < 0.005) blockedUntil = t + burst * random();
    let event = phase + Math.ceil((Math.max(t, blockedUntil) - phase) / interval) * interval;
    while (random() < loss) event += interval;
    lastArrival = Math.max(lastArrival, event + least);
    const padTime = Math.round(pad * 1000) / 1000;
    map.learn(padTime, lastArrival);
    const mapped = map.hostTime(padTime);
    errors.push({ t, error: mapped - t, mapped });
  }
  return { errors, map };
};

const worst = (errors: readonly { t: number; error: number }[], from: number): number =>
  errors.reduce(
    (most, { t, error }) => (t > 10 + from ? Math.max(most, Math.abs(error)) : most),
    0,
  );

/**
 * What arrivals alone can tell, s: notifications every 50 ms fall on few phases of the connection
 * interval, their common measure apart, and only the skew moves them. To it the link's least delay
 * (1 ms, the same for all pads, so left in), the clock's rounding (0.5 ms) and 1 ms for the fit.
 */
const COMMON_MEASURE = { 7.5: 0.0025, 15: 0.005, 28.75: 0.00125, 30: 0.01 } as const;
const INTERVALS = [7.5, 15, 28.75, 30] as const;
const attainable = (intervalMs: (typeof INTERVALS)[number]): number =>
  COMMON_MEASURE[intervalMs] + 0.0025;

const isMonotone = (errors: readonly { mapped: number }[]): boolean =>
  errors.every(({ mapped }, k) => k === 0 || mapped > (errors[k - 1]?.mapped ?? 0));

describe('mapped times against the truth of a simulated link', () => {
  for (const intervalMs of INTERVALS)
    for (const seed of [1, 2, 3])
      test(`interval ${intervalMs} ms, seed ${seed}, loss, bursts, 40 ppm`, () => {
        const { errors, map } = simulate({
          seed,
          seconds: 600,
          interval: intervalMs / 1000,
          skew: () => 40e-6,
          loss: 0.1,
          burst: 0.6,
        });
        expect(worst(errors, 5)).toBeLessThan(attainable(intervalMs));
        expect(isMonotone(errors)).toBe(true);
        expect(Math.abs(map.skew() + 40e-6)).toBeLessThan(15e-6);
      });

  test('two pads are aligned to each other within 5 ms, on different links', () => {
    const a = simulate({ seed: 11, seconds: 120, interval: 0.015, skew: () => 60e-6, loss: 0.05 });
    const b = simulate({
      seed: 12,
      seconds: 120,
      interval: 0.02875,
      skew: () => -80e-6,
      loss: 0.05,
    });
    const apart = a.errors.map(({ t, error }, k) => ({
      t,
      error: error - (b.errors[k]?.error ?? NaN),
    }));
    expect(worst(apart, 3)).toBeLessThan(0.005);
  });

  test('quick start: within 8 ms after the first second', () => {
    const { errors } = simulate({ seed: 21, seconds: 3, interval: 0.02875 });
    expect(worst(errors, 1)).toBeLessThan(0.008);
  });

  test('four hours with a clock that warms up: 100 ppm drifting to 80', () => {
    const { errors } = simulate({
      seed: 31,
      seconds: 4 * 3600,
      interval: 0.02875,
      skew: (t) => 80e-6 + 20e-6 * Math.exp(-t / 1800),
      loss: 0.05,
      burst: 0.5,
    });
    expect(worst(errors, 60)).toBeLessThan(0.006);
    expect(isMonotone(errors)).toBe(true);
  });
});

test('a clock that is torn away is followed at once', () => {
  const map = createClockMap();
  for (let k = 0; k < 100; k++) map.learn(k / 10, 50 + k / 10);
  map.learn(500, 70);
  expect(map.hostTime(500)).toBe(70);
  expect(map.hostTime(500.1)).toBeCloseTo(70.1, 9);
});

describe('lowerLine', () => {
  const limits = { slopeLimit: 1, slopeNeeds: 0 };

  test('touches from below and is nearest in the mean, by brute force over all pairs', () => {
    const random = createRandom(5).uniform;
    for (let round = 0; round < 50; round++) {
      const xs = Array.from({ length: 20 }, (_, k) => k + random() / 2);
      const ys = xs.map((x) => 0.3 * x + random() ** 3 * 5);
      const line = lowerLine(xs, ys, limits);
      const at = (x: number) => line.offset + line.slope * (x - line.origin);
      xs.forEach((x, k) => expect(at(x)).toBeLessThanOrEqual((ys[k] ?? 0) + 1e-9));
      const cost = xs.reduce((sum, x, k) => sum + (ys[k] ?? 0) - at(x), 0);
      let best = Infinity;
      for (let i = 0; i < xs.length; i++)
        for (let j = i + 1; j < xs.length; j++) {
          const slope = ((ys[j] ?? 0) - (ys[i] ?? 0)) / ((xs[j] ?? 0) - (xs[i] ?? 0));
          const gaps = xs.map((x, k) => (ys[k] ?? 0) - (ys[i] ?? 0) - slope * (x - (xs[i] ?? 0)));
          if (Math.min(...gaps) > -1e-9)
            best = Math.min(
              best,
              gaps.reduce((a, b) => a + b, 0),
            );
        }
      expect(cost).toBeCloseTo(best, 6);
    }
  });

  test('the slope is held within its limit, and at zero for little data', () => {
    expect(lowerLine([0, 1, 2], [0, 5, 10], limits).slope).toBe(1);
    expect(lowerLine([0, 1, 2], [0, 0.5, 1], { slopeLimit: 1, slopeNeeds: 5 })).toEqual({
      slope: 0,
      offset: 0,
      origin: 2,
    });
  });
});
