import { describe, expect, test } from 'vitest';
import { chiSquaredQuantile } from '../../../core/statistics/chiSquaredQuantile.ts';
import { fTail } from '../../../core/statistics/fDistribution.ts';
import { findRoot } from '../../../core/statistics/findRoot.ts';
import { fQuantile } from '../../../core/statistics/fQuantile.ts';
import { incompleteGamma, normalProbability } from '../../../core/statistics/incompleteGamma.ts';
import { symmetricEigen } from '../../../core/statistics/symmetricEigen.ts';

describe('chi-squared', () => {
  test('critical values (NIST/SEMATECH e-Handbook 1.3.6.7.4, three decimals)', () => {
    const table = [
      [0.05, 1, 3.841],
      [0.05, 10, 18.307],
      [0.01, 10, 23.209],
      [0.95, 10, 3.94],
      [0.975, 5, 0.831],
      [0.025, 20, 34.17],
      [0.025, 100, 129.561],
    ] as const;
    for (const [tail, dof, value] of table)
      expect(chiSquaredQuantile(tail, dof)).toBeCloseTo(value, 3);
  });

  test('two degrees of freedom in closed form: −2·ln(tail)', () => {
    for (const tail of [1e-6, 0.025, 0.5, 0.975, 0.999999])
      expect(chiSquaredQuantile(tail, 2) / (-2 * Math.log(tail))).toBeCloseTo(1, 9);
  });

  test('incomplete gamma: P(1, x) = 1 − e^−x on both of its branches; the normal law', () => {
    for (const x of [1e-3, 0.7, 1.9, 2.1, 30])
      expect(incompleteGamma(1, x)).toBeCloseTo(-Math.expm1(-x), 14);
    // Φ(1.96…) = 0.975 and Φ(−3) = 0.00134990 (standard tables).
    expect(normalProbability(1.959963984540054)).toBeCloseTo(0.975, 13);
    expect(normalProbability(-3)).toBeCloseTo(0.0013498980316301, 14);
  });

  test('what is none is refused', () => {
    expect(() => chiSquaredQuantile(0, 3)).toThrow(RangeError);
    expect(() => chiSquaredQuantile(0.5, Infinity)).toThrow(RangeError);
    expect(() => incompleteGamma(0, 1)).toThrow(RangeError);
    expect(() => fQuantile(0.05, 3, 0)).toThrow(RangeError);
    expect(() => findRoot((x) => x * x + 1, -1, 1)).toThrow(RangeError);
  });
});

describe('quantiles of Fisher’s distribution', () => {
  test('load-cell case study: 2.15 with 18 and 20 (e-Handbook 4.6.1.5); more digits recomputed', () => {
    expect(fQuantile(0.05, 18, 20)).toBeCloseTo(2.1511244, 7);
    expect(fQuantile(0.05, 17, 20)).toBeCloseTo(2.166701, 6);
    // e-Handbook 1.3.6.7.3: 161.448 with 1 and 1; 4.965 with 1 and 10.
    expect(fQuantile(0.05, 1, 1)).toBeCloseTo(161.448, 3);
    expect(fQuantile(0.05, 1, 10)).toBeCloseTo(4.965, 3);
  });

  test('it undoes the tail, and turned round it is one over the other', () => {
    for (const [d1, d2] of [
      [1, 3],
      [7.5, 2.2],
      [60, 4],
    ] as const)
      for (const tail of [0.001, 0.025, 0.6, 0.975]) {
        const f = fQuantile(tail, d1, d2);
        expect(fTail(f, d1, d2)).toBeCloseTo(tail, 10);
        expect(f * fQuantile(1 - tail, d2, d1)).toBeCloseTo(1, 8);
      }
    expect(fQuantile(0.025, 8, Infinity)).toBeCloseTo(chiSquaredQuantile(0.025, 8) / 8, 12);
  });
});

test('eigenvalues of the second-difference matrix: 2 − 2·cos(kπ/(n+1)) in closed form', () => {
  const n = 7;
  const matrix: number[][] = Array.from({ length: n }, (_, i) =>
    Array.from({ length: n }, (_unused, j): number =>
      i === j ? 2 : Math.abs(i - j) === 1 ? -1 : 0,
    ),
  );
  const { values, vectors } = symmetricEigen(matrix);
  const sorted = [...values].sort((a, b) => a - b);
  for (const [k, value] of sorted.entries())
    expect(value).toBeCloseTo(2 - 2 * Math.cos(((k + 1) * Math.PI) / (n + 1)), 12);
  for (const [index, vector] of vectors.entries())
    for (const [i, row] of matrix.entries()) {
      const product = row.reduce((sum, entry, j) => sum + entry * (vector[j] as number), 0);
      expect(product).toBeCloseTo((values[index] as number) * (vector[i] as number), 12);
    }
});
