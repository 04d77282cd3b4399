import { describe, expect, test } from 'vitest';
import { lackOfFit } from '../../../core/calibration/lackOfFit.ts';
import {
  fittedAt,
  overZero,
  polynomialFit,
  type Observation,
  type PolynomialFit,
} from '../../../core/calibration/polynomialFit.ts';
import { linearModel } from '../../../core/statistics/linearModel.ts';
import { createRandom } from '../../../drivers/pads/rig/random.ts';

const fitOf = (observations: readonly Observation[], model: { degree: 1 | 2 }): PolynomialFit => {
  const outcome = polynomialFit(observations, model);
  if (!outcome.ok) throw new Error(outcome.why);
  return outcome.fit;
};

const expectClose = (found: readonly number[], wanted: readonly number[]): void => {
  expect(found).toHaveLength(wanted.length);
  for (const [index, value] of wanted.entries())
    expect((found[index] ?? NaN) / value).toBeCloseTo(1, 8);
};

describe('cycles with zeros of their own', () => {
  const random = createRandom(7);
  const noise = Array.from({ length: 20 }, () => 0.01 * random.normal());
  const points = noise.map((e, index): Observation & { readonly cycle: number } => {
    const cycle = 1 + Math.floor(index / 10);
    const x = 5 * (index % 10);
    return { x, y: (cycle === 1 ? 100 : 130) + 2 * x + 0.001 * x * x + e, cycle };
  });

  test('agrees with ordinary least squares on an indicator for each cycle', () => {
    // The same model written out, solved by the general linear model.
    const written = linearModel(
      points.map(({ x, cycle }) => [cycle === 1 ? 1 : 0, cycle === 2 ? 1 : 0, x, x * x]),
      points.map(({ y }) => y),
    );
    const fit = fitOf(points, { degree: 2 });
    expect(fit).toMatchObject({ powers: [0, 0, 1, 2], cycles: [1, 2], dof: 16 });
    expectClose(fit.coefficients, written?.coefficients ?? []);
    expectClose(fit.covariance.flat(), (written?.covariance ?? []).flat());
  });

  test('over its zero the curve is what it was, whatever the zeros', () => {
    const raised = points.map((each) => (each.cycle === 2 ? { ...each, y: each.y + 1000 } : each));
    const [a, b] = [overZero(fitOf(points, { degree: 2 })), overZero(fitOf(raised, { degree: 2 }))];
    expect(a.powers).toEqual([1, 2]);
    for (const x of [5, 20, 45]) {
      expect(fittedAt(b, x).value).toBeCloseTo(fittedAt(a, x).value, 8);
      expect(fittedAt(b, x).u).toBeCloseTo(fittedAt(a, x).u, 8);
    }
    expect(fittedAt(a, 0)).toEqual({ value: 0, u: 0 });
  });
});

test('hysteresis is no pure error where each side was repeated', () => {
  const random = createRandom(11);
  const observed = [1, 2, 3].flatMap(() =>
    (['up', 'down'] as const).flatMap((side) =>
      [0, 10, 20, 30, 40].map((x): Observation => {
        const loop = side === 'down' ? 0.001 * x * (40 - x) : 0;
        return { x, y: 2 * x + loop + 0.01 * random.normal(), side };
      }),
    ),
  );
  const line = fitOf(observed, { degree: 1 });
  const sided = lackOfFit(observed, line);
  const mixed = lackOfFit(
    observed.map(({ x, y }) => ({ x, y })),
    line,
  );
  // Simulated scatter 0.01; the loop of 0.4 at the middle is ten times that and more.
  expect(sided?.pureErrorSd).toBeGreaterThan(0.006);
  expect(sided?.pureErrorSd).toBeLessThan(0.014);
  expect(sided?.dofPure).toBe(20);
  expect(mixed?.pureErrorSd).toBeGreaterThan(0.1);
});
