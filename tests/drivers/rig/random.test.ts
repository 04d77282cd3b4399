import { expect, test } from 'vitest';
import { createRandom, createXoshiro128 } from '../../../drivers/pads/rig/random.ts';

test('xoshiro128** 1.1 gives the reference sequence from the state 1, 2, 3, 4', () => {
  // Produced by the authors' C code; the test vector of the Rust crate rand_xoshiro.
  const next = createXoshiro128([1, 2, 3, 4]);
  expect(Array.from({ length: 10 }, next)).toEqual([
    11520, 0, 5927040, 70819200, 2031721883, 1637235492, 1287239034, 3734860849, 3729100597,
    4258142804,
  ]);
});

test('the same seed and stream repeat, another stream is unrelated', () => {
  const take = (seed: number, stream: number): number[] => {
    const random = createRandom(seed, stream);
    return Array.from({ length: 2000 }, () => random.uniform());
  };
  expect(take(7, 3)).toEqual(take(7, 3));
  const [a, b] = [take(7, 3), take(7, 4)];
  const correlation = a.reduce((sum, x, i) => sum + (x - 0.5) * ((b[i] as number) - 0.5), 0) / 2000;
  // Of independent streams this has a standard deviation of (1/12)/√2000 = 0.0019.
  expect(Math.abs(correlation)).toBeLessThan(4 * 0.0019);
});

test('normal deviates have mean 0, variance 1, kurtosis 3', () => {
  const random = createRandom(11);
  const n = 100_000;
  const z = Array.from({ length: n }, () => random.normal());
  const moment = (power: number): number => z.reduce((sum, x) => sum + x ** power, 0) / n;
  // Standard deviations of the sample moments of a normal: 1/√n, √2/√n, √96/√n.
  expect(Math.abs(moment(1))).toBeLessThan(4 / Math.sqrt(n));
  expect(Math.abs(moment(2) - 1)).toBeLessThan((4 * Math.SQRT2) / Math.sqrt(n));
  expect(Math.abs(moment(4) - 3)).toBeLessThan((4 * Math.sqrt(96)) / Math.sqrt(n));
});

test('uniform numbers fill [0, 1) evenly', () => {
  const random = createRandom(5);
  const bins = new Array<number>(16).fill(0);
  for (let i = 0; i < 32_000; i += 1) {
    const bin = Math.floor(random.uniform() * 16);
    bins[bin] = (bins[bin] ?? NaN) + 1;
  }
  const chi2 = bins.reduce((sum, count) => sum + (count - 2000) ** 2 / 2000, 0);
  // 99.9 % point of chi-squared with 15 degrees of freedom (standard tables): 37.70.
  expect(chi2).toBeLessThan(37.7);
});
