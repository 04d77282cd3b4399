import { describe, expect, test } from 'vitest';
import { fQuantile } from '../../../core/statistics/fQuantile.ts';
import { varianceCombination } from '../../../core/statistics/varianceCombination.ts';
import { createNoise } from '../signal/noise.ts';

const RUNS = 2000;
/** Three standard deviations of a share of 0.95 over so many runs: 0.0146. */
const LEAST = 0.935;

test('one mean square: the exact interval of a standard deviation', () => {
  // s√(ν/χ²) with χ²(0.025; 10) = 20.483 and χ²(0.975; 10) = 3.247 (e-Handbook 1.3.6.7.4).
  const found = varianceCombination([{ coefficient: 1, meanSquare: 4, dof: 10 }]);
  expect(found).toMatchObject({ variance: 4, sd: 2, dof: 10 });
  expect(found.lower).toBeCloseTo(2 * Math.sqrt(10 / 20.483), 4);
  expect(found.upper).toBeCloseTo(2 * Math.sqrt(10 / 3.247), 3);
});

test('Satterthwaite: two equal mean squares have the sum of their degrees of freedom', () => {
  const two = varianceCombination([
    { coefficient: 0.5, meanSquare: 3, dof: 6 },
    { coefficient: 0.5, meanSquare: 3, dof: 6 },
  ]);
  expect(two.dof).toBeCloseTo(12, 12);
  // A difference below zero stays visible in the variance and has no standard deviation.
  const less = varianceCombination([
    { coefficient: 1, meanSquare: 1, dof: 3 },
    { coefficient: -1, meanSquare: 1.5, dof: 30 },
  ]);
  expect(less).toMatchObject({ variance: -0.5, sd: 0, lower: 0 });
  expect(less.upper).toBeGreaterThan(0);
  expect(() => varianceCombination([])).toThrow(RangeError);
  expect(() => varianceCombination([{ coefficient: 1, meanSquare: -1, dof: 3 }])).toThrow(
    RangeError,
  );
});

test('the bounds of a component are zero exactly where the F test says so', () => {
  // What the cross term of Ting, Burdick et al. (1990) is made for: the interval excludes zero just
  // when MS_between/MS_within is above the 2.5 % point of F, or below the 97.5 % point.
  const component = (ratio: number) =>
    varianceCombination([
      { coefficient: 0.25, meanSquare: ratio, dof: 2 },
      { coefficient: -0.25, meanSquare: 1, dof: 4 },
    ]);
  const high = fQuantile(0.025, 2, 4);
  expect(component(high * 0.999).lower).toBe(0);
  expect(component(high * 1.001).lower).toBeGreaterThan(0);
  expect(component(high * 1.001).lower).toBeLessThan(0.1);
  const low = fQuantile(0.975, 2, 4);
  expect(component(low * 0.999).upper).toBe(0);
  expect(component(low * 1.001).upper).toBeGreaterThan(0);
  expect(component(low * 1.001).upper).toBeLessThan(0.1);
});

describe('coverage of the 95 % intervals, 2,000 runs with fixed seeds', () => {
  /** Sum of `dof` squared normal deviates over dof, times the expected mean square. */
  const draw = (noise: { normal(): number }, expected: number, dof: number): number => {
    let sum = 0;
    for (let i = 0; i < dof; i += 1) sum += noise.normal() ** 2;
    return (expected * sum) / dof;
  };

  test.each([
    // between groups, within groups, groups, in a group: components to be covered
    [0, 1, 5, 4],
    [0.5, 1, 5, 4],
    [4, 1, 3, 5],
    [4, 1, 10, 2],
  ])('between %d, within %d, %i groups of %i', (between, within, groups, n) => {
    const noise = createNoise(20_261_125 + groups);
    let [component, total] = [0, 0];
    for (let run = 0; run < RUNS; run += 1) {
      const high = { meanSquare: draw(noise, within + n * between, groups - 1), dof: groups - 1 };
      const low = { meanSquare: draw(noise, within, groups * (n - 1)), dof: groups * (n - 1) };
      const difference = varianceCombination([
        { ...high, coefficient: 1 / n },
        { ...low, coefficient: -1 / n },
      ]);
      const sum = varianceCombination([
        { ...high, coefficient: 1 / n },
        { ...low, coefficient: 1 - 1 / n },
      ]);
      const truth = Math.sqrt(between);
      if (difference.lower <= truth && truth <= difference.upper) component += 1;
      const all = Math.sqrt(between + within);
      if (sum.lower <= all && all <= sum.upper) total += 1;
    }
    expect(component / RUNS).toBeGreaterThan(LEAST);
    expect(total / RUNS).toBeGreaterThan(LEAST);
    // Not by being useless: an interval for the total that always covers would be too wide.
    expect(total / RUNS).toBeLessThan(0.99);
  });
});
