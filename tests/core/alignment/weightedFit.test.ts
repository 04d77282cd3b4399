import { describe, expect, test } from 'vitest';
import { inv, matrix, multiply, transpose, type Matrix } from 'mathjs';
import { propagated, propagatedJointly } from '../../../core/alignment/propagated.ts';
import { weightedFit } from '../../../core/alignment/weightedFit.ts';
import { measured } from '../../../core/measured.ts';
import { createNoise } from '../signal/noise.ts';

describe('weighted least squares', () => {
  const noise = createNoise(21);
  const rows = Array.from({ length: 9 }, (_, i) => [1, i - 3, (i - 3) ** 2]);
  const y = rows.map(([, x = 0], i) =>
    measured(2 - 0.3 * x + 0.02 * x ** 2 + 0.1 * noise.normal(), 0.05 + 0.02 * i, 12),
  );
  const fit = weightedFit(rows, y)!;

  test('coefficients and covariance are those of the normal equations of a general library', () => {
    const weights = y.map(({ u }) => 1 / u ** 2);
    const x = matrix(rows.map((row) => [...row]));
    const wx = matrix(rows.map((row, i) => row.map((entry) => entry * weights[i]!)));
    const normal = inv(multiply(transpose(wx), x) as Matrix<number>);
    const solution = multiply(
      normal,
      multiply(transpose(wx), matrix(y.map(({ value }) => value))),
    ) as Matrix<number>;
    for (const [i, value] of fit.coefficients.entries())
      expect(value).toBeCloseTo(Number(solution.get([i])), 10);
    const stretch = fit.agrees ? 1 : fit.chiSquared / fit.dof;
    for (const [i, row] of fit.covariance.entries())
      for (const [j, entry] of row.entries())
        expect(entry).toBeCloseTo(stretch * normal.get([i, j]), 10);
    const both = fit.estimate([1, 2, 0]);
    const c = fit.covariance;
    expect(both.u ** 2).toBeCloseTo(c[0]![0]! + 4 * c[0]![1]! + 4 * c[1]![1]!, 12);
  });

  test('residuals beyond what is stated stretch the uncertainty, and bring their own freedom', () => {
    const stated = y.map(({ value }) => measured(value, 1e-3, 12));
    const doubted = weightedFit(rows, stated)!;
    expect(doubted.agrees).toBe(false);
    const at = doubted.estimate([1, 0, 0]);
    expect(at.dof).toBe(6);
    // Equal weights: the classical estimate from the residual variance.
    const variance = doubted.residuals.reduce((sum, r) => sum + r * r, 0) / 6;
    const normal = inv(multiply(transpose(matrix(rows)), matrix(rows)) as Matrix<number>);
    expect(at.u ** 2).toBeCloseTo(variance * normal.get([0, 0]), 12);
  });

  test('as many readings as coefficients fit exactly; fewer, or rows alike, do not', () => {
    expect(weightedFit(rows.slice(0, 3), y.slice(0, 3))?.agrees).toBe(true);
    expect(weightedFit(rows.slice(0, 2), y.slice(0, 2))).toBeNull();
    expect(
      weightedFit(
        rows.map(() => [1, 2, 3]),
        y,
      ),
    ).toBeNull();
    expect(
      weightedFit(
        rows,
        y.map(({ value }) => measured(value, 0, 1)),
      ),
    ).toBeNull();
  });
});

describe('propagation', () => {
  test('product and quotient of 3 ± 0.1 and 4 ± 0.2, by hand', () => {
    const [a, b] = [measured(3, 0.1, 5), measured(4, 0.2, 10)];
    const product = propagated([a, b], ([x = 0, y = 0]) => x * y)!;
    expect(product.u).toBeCloseTo(Math.hypot(0.4, 0.6), 12);
    // Welch and Satterthwaite: 0.52²/(0.4⁴/5 + 0.6⁴/10).
    expect(product.dof).toBeCloseTo(0.52 ** 2 / (0.4 ** 4 / 5 + 0.6 ** 4 / 10), 9);
    const joint = propagatedJointly([a, b], ([x = 0, y = 0]) => [x + y, x - y])!;
    expect(joint.covariance[0]![1]).toBeCloseTo(0.01 - 0.04, 12);
  });

  test('an uncertainty that leaves the function is null, not a number', () => {
    expect(propagated([measured(0.5, 1, 5)], ([x = 0]) => Math.asin(x))).toBeNull();
  });
});
