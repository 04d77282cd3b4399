import { describe, expect, test } from 'vitest';
import { SAMPLE_FLAGS } from '../../../core/reading.ts';
import { STANDARD_GRAVITY } from '../../../core/units.ts';
import { RIG_NOISE_LEVELS } from '../../../drivers/pads/rig/noiseLevels.ts';
import { createPadElectronics, RIG_PAD_RATING } from '../../../drivers/pads/rig/padElectronics.ts';
import { createRandom } from '../../../drivers/pads/rig/random.ts';

/** Counts of a kilogram: reference values 6.1, 2²³ · 10/20 / 500. */
const COUNTS_PER_KG = 8388.608;
const NAMED_SEEDS = [1, 2, 3, 4, 5];

/** Converts one force many times at a rate. */
const many = (
  pad: ReturnType<typeof createPadElectronics>,
  force: number,
  seconds: number,
  rate: number,
  from = 0,
): number[] =>
  Array.from({ length: seconds * rate }, (_, i) => pad.convert(force, from + i / rate, rate));
const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b) / values.length;
/** Standard deviation from successive differences: slow wander falls out (von Neumann 1941). */
const whiteSd = (values: readonly number[]): number =>
  Math.sqrt(
    values.slice(1).reduce((sum, v, i) => sum + (v - (values[i] as number)) ** 2, 0) /
      (2 * (values.length - 1)),
  );

test('the rating is that of a common converter', () => {
  expect(RIG_PAD_RATING.countsAtRatedLoad / RIG_PAD_RATING.ratedLoad).toBeCloseTo(COUNTS_PER_KG, 9);
});

describe('noise', () => {
  test.each([
    ['quiet', 2],
    ['normal', 5],
    ['harsh', 50],
  ] as const)('%s is %s g rms at 80 Hz', (level, grams) => {
    for (const seed of NAMED_SEEDS) {
      const counts = many(createPadElectronics(level, createRandom(seed)), 0, 100, 80);
      const found = (whiteSd(counts) / COUNTS_PER_KG) * 1000;
      // 8000 samples: relative standard deviation of this estimate is √(3/2)/√8000 = 1.4 %.
      expect(Math.abs(found / grams - 1), `seed ${seed}: ${found} g`).toBeLessThan(0.056);
    }
  });

  test('averaging four samples in the converter halves it: 20 Hz against 80 Hz', () => {
    const fast = whiteSd(many(createPadElectronics('normal', createRandom(9)), 0, 200, 80));
    const slow = whiteSd(many(createPadElectronics('normal', createRandom(9)), 0, 800, 20));
    expect(fast / slow).toBeGreaterThan(1.9);
    expect(fast / slow).toBeLessThan(2.1);
  });
});

describe('span and zero', () => {
  test('follow the force with a span error under 0.1 % and a zero of each pad’s own', () => {
    const spans = new Set<number>();
    for (const seed of NAMED_SEEDS) {
      const pad = createPadElectronics('quiet', createRandom(seed));
      const empty = mean(many(pad, 0, 5, 80));
      expect(Math.abs(empty - pad.zero) / COUNTS_PER_KG).toBeLessThan(0.02);
      const loaded = mean(many(pad, 300 * STANDARD_GRAVITY, 5, 80, 5));
      const span = (loaded - empty) / (300 * COUNTS_PER_KG);
      // Creep of 5 s is under 0.02 % · 5/240, noise far less.
      expect(Math.abs(span - 1 - pad.spanError), `seed ${seed}`).toBeLessThan(3e-5);
      expect(Math.abs(pad.spanError)).toBeLessThan(1e-3);
      spans.add(pad.spanError);
    }
    expect(spans.size).toBe(NAMED_SEEDS.length);
  });

  test('creep adds to a load over minutes, within the 0.0245 % of a C3 cell', () => {
    for (const seed of NAMED_SEEDS) {
      const pad = createPadElectronics('quiet', createRandom(seed));
      const force = 500 * STANDARD_GRAVITY * 0.99;
      const early = mean(many(pad, force, 4, 80));
      const late = mean(many(pad, force, 4, 80, 1800));
      const share = (late - early) / (495 * COUNTS_PER_KG);
      // Temperature adds its own: a zero of 0.0014 %/°C and a span of 0.0175 %/10 °C at most.
      expect(share, `seed ${seed}`).toBeLessThan(0.000245 + 4 * (0.000014 + 0.0000175));
      expect(share, `seed ${seed}`).toBeGreaterThan(-4 * (0.000014 + 0.0000175));
    }
  });
});

describe('flags', () => {
  test('overload above the rated load, saturated at the end of the converter', () => {
    const pad = createPadElectronics('normal', createRandom(3));
    pad.convert(499 * STANDARD_GRAVITY, 0, 80);
    expect(pad.flags()).toBe(0);
    pad.convert(501 * STANDARD_GRAVITY, 0.0125, 80);
    expect(pad.flags()).toBe(SAMPLE_FLAGS.overload);
    expect(pad.convert(1200 * STANDARD_GRAVITY, 0.025, 80)).toBe(0x7fffff);
    expect(pad.flags()).toBe(SAMPLE_FLAGS.overload + SAMPLE_FLAGS.saturated);
    expect(pad.convert(-1200 * STANDARD_GRAVITY, 0.0375, 80)).toBe(-0x7fffff);
    expect(pad.flags()).toBe(SAMPLE_FLAGS.saturated);
  });

  test('low battery at and under 15 %', () => {
    const pad = createPadElectronics('normal', createRandom(3));
    pad.setBattery(16);
    pad.convert(0, 0, 80);
    expect(pad.flags()).toBe(0);
    pad.setBattery(15);
    pad.convert(0, 1, 80);
    expect(pad.flags()).toBe(SAMPLE_FLAGS.lowBattery);
  });
});

test('temperature and battery change slowly', () => {
  const pad = createPadElectronics('normal', createRandom(4));
  let temperature = NaN;
  let battery = NaN;
  const seen: number[] = [];
  for (let t = 0; t < 7200; t += 1) {
    pad.convert(0, t, 10);
    if (t > 0) {
      expect(Math.abs(pad.temperature() - temperature)).toBeLessThan(0.3);
      expect(pad.battery()).toBeLessThanOrEqual(battery);
    }
    temperature = pad.temperature();
    battery = pad.battery();
    seen.push(temperature);
  }
  expect(Math.max(...seen) - Math.min(...seen)).toBeGreaterThan(0.5);
  expect(Math.min(...seen)).toBeGreaterThan(12);
  expect(Math.max(...seen)).toBeLessThan(28);
});

test('a spike is in one conversion and no other', () => {
  const pad = createPadElectronics('quiet', createRandom(5));
  const before = pad.convert(0, 0, 80);
  pad.spike(20);
  const wrong = pad.convert(0, 0.0125, 80);
  const after = pad.convert(0, 0.025, 80);
  expect((wrong - before) / COUNTS_PER_KG).toBeCloseTo(20, 1);
  expect((after - before) / COUNTS_PER_KG).toBeCloseTo(0, 1);
});

test('every level is repeated by its seed', () => {
  for (const level of RIG_NOISE_LEVELS) {
    const take = (): number[] => many(createPadElectronics(level, createRandom(8)), 1000, 2, 80);
    expect(take()).toEqual(take());
  }
});
