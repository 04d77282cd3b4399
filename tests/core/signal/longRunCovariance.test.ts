import { expect, test } from 'vitest';
import { correlationLags } from '../../../core/signal/correlationLags.ts';
import { longRunCovariance, longRunVariance } from '../../../core/signal/longRunCovariance.ts';
import { createNoise } from './noise.ts';

/**
 * Newey and West's sum as they write it, lag by lag: S = Γ₀ + Σ (1 − k/width)(Γₖ + Γₖᵀ), over n for
 * the mean, and made whole for the sample mean.
 */
const byTheBook = (rows: readonly Float64Array[], width: number): number[] => {
  const n = (rows[0] as Float64Array).length;
  const lagged = (i: number, j: number, lag: number): number => {
    let sum = 0;
    for (let t = lag; t < n; t += 1)
      sum += (rows[i]?.[t] as number) * (rows[j]?.[t - lag] as number);
    return sum / n;
  };
  return rows.flatMap((_, i) =>
    rows.map((__, j) => {
      let sum = lagged(i, j, 0);
      for (let lag = 1; lag < width; lag += 1)
        sum += (1 - lag / width) * (lagged(i, j, lag) + lagged(j, i, lag));
      return sum / n / (1 - Math.min(0.5, width / n));
    }),
  );
};

test.each([1, 2, 7, 20])('moving sums give the lag window by the book, width %d', (width) => {
  const noise = createNoise(11);
  const rows = Array.from({ length: 3 }, () => {
    const values = Float64Array.from({ length: 50 }, () => noise.normal());
    const mean = values.reduce((sum, value) => sum + value, 0) / 50;
    return values.map((value) => value - mean);
  });
  const found = longRunCovariance(rows, width);
  byTheBook(rows, width).forEach((entry, index) => expect(found[index]).toBeCloseTo(entry, 12));
  expect(longRunVariance(rows[0] as Float64Array, 50, width)).toBeCloseTo(found[0] as number, 12);
});

test('memory reaches as far as values repeat, and not further for a series without', () => {
  const noise = createNoise(12);
  const values = Array.from({ length: 100 }, () => noise.normal());
  const mean = values.reduce((sum, value) => sum + value, 0) / 100;
  const eight = values.flatMap((value) => Array.from({ length: 8 }, () => value - mean));
  expect(correlationLags(eight, 800)).toBeGreaterThanOrEqual(6);
  expect(correlationLags([1, -1, 1, -1], 4)).toBe(2);
  expect(correlationLags([0, 0, 0], 3)).toBe(1);
});
