import { describe, expect, test } from 'vitest';
import { warmUp } from '../../../core/season/warmUp.ts';
import { createNoise } from '../signal/noise.ts';

const MINUTE = 60;
const every = (minutes: number, count: number): number[] =>
  Array.from({ length: count }, (_, i) => (i + 1) * minutes * MINUTE);

describe('a zero that warms up', () => {
  test('exponential: the size and time put in are found, with intervals that hold them', () => {
    const noise = createNoise(41);
    const [size, time, sigma] = [3, 12 * MINUTE, 0.05];
    let inside = 0;
    const runs = 300;
    for (let run = 0; run < runs; run += 1) {
      const points = every(3, 20).map((t) => ({
        sinceOn: t,
        value: 5 - size * Math.exp(-t / time) + sigma * noise.normal(),
      }));
      const found = warmUp(points, 0.1);
      if (found.kind !== 'warming') throw new Error('not seen');
      expect(found.model).toBe('exponential');
      const truth = size * Math.exp(-(3 * MINUTE) / time);
      // t(0.975; 17) = 2.11 (JCGM 100:2008, table G.2).
      if (Math.abs(found.change.value - truth) < 2.11 * found.change.u) inside += 1;
      expect(Math.abs(found.time / time - 1)).toBeLessThan(0.35);
      // What is left is 0.1 after time·ln(size/0.1).
      expect(Math.abs((found.steadyAfter ?? 0) / (time * Math.log(30)) - 1)).toBeLessThan(0.35);
    }
    expect(inside / runs).toBeGreaterThan(0.9);
  });

  test('a ramp that ends is told from an exponential', () => {
    const noise = createNoise(42);
    const points = every(2, 30).map((t) => ({
      sinceOn: t,
      value: Math.min(t, 24 * MINUTE) / MINUTE + 0.1 * noise.normal(),
    }));
    const found = warmUp(points, 0.5);
    expect(found).toMatchObject({ kind: 'warming', model: 'ramp' });
    if (found.kind !== 'warming') return;
    expect(found.time / MINUTE).toBeGreaterThan(22);
    expect(found.time / MINUTE).toBeLessThan(26);
    expect(found.change.value).toBeCloseTo(22, 0);
  });

  test('watched for too short a time: warming, and no time at which it is over', () => {
    const noise = createNoise(43);
    const points = every(1, 12).map((t) => ({
      sinceOn: t,
      value: 10 * Math.exp(-t / (20 * MINUTE)) + 0.02 * noise.normal(),
    }));
    expect(warmUp(points, 0.2)).toMatchObject({ kind: 'warming', steadyAfter: null });
  });
});

test('a flat zero is called warming in at most 5 % of 600 series', () => {
  const noise = createNoise(44);
  const runs = 600;
  let all = 0;
  for (const count of [6, 10, 30]) {
    let called = 0;
    for (let run = 0; run < runs; run += 1) {
      const points = every(2, count).map((t) => ({ sinceOn: t, value: noise.normal() }));
      if (warmUp(points, 0.1).kind === 'warming') called += 1;
    }
    // 5 % and three standard deviations of a count over so many runs.
    expect(called / runs, `${count} points`).toBeLessThan(0.077);
    all += called;
  }
  // Nor so timid that the 5 % are not used: 4.2 % with this seed.
  expect(all / (3 * runs)).toBeGreaterThan(0.035);
});

test('a flat verdict says what could have hidden: of that size, nine in ten are seen', () => {
  const noise = createNoise(45);
  for (const count of [10, 16, 30]) {
    const times = every(3, count);
    const first = times[0] as number;
    const third = ((times.at(-1) as number) - first) / 3;
    let [flat, seen] = [0, 0];
    while (flat < 250) {
      const values = times.map((t) => ({ sinceOn: t, value: noise.normal() }));
      const found = warmUp(values, 0.1);
      if (found.kind !== 'flat') continue;
      flat += 1;
      const grown = values.map(({ sinceOn, value }) => ({
        sinceOn,
        value: value + found.couldHide * Math.exp((first - sinceOn) / third),
      }));
      if (warmUp(grown, 0.1).kind === 'warming') seen += 1;
    }
    expect(seen / flat, `${count} points`).toBeGreaterThan(0.85);
  }
});

test('too few points, and times that are none', () => {
  expect(warmUp([], 1)).toEqual({ kind: 'cannot tell', pointsNeeded: 6 });
  expect(warmUp([{ sinceOn: 1, value: 1 }], 1)).toEqual({ kind: 'cannot tell', pointsNeeded: 5 });
  expect(() => warmUp([{ sinceOn: -1, value: 1 }], 1)).toThrow(RangeError);
});
