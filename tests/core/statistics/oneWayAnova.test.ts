import { describe, expect, test } from 'vitest';
import { linearModel } from '../../../core/statistics/linearModel.ts';
import { oneWayAnova } from '../../../core/statistics/oneWayAnova.ts';

/** Digits that agree: −log₁₀ of the relative error, as NIST counts them. */
const digits = (found: number, certified: number): number =>
  found === certified ? 16 : -Math.log10(Math.abs(found / certified - 1));

describe('certified values of NIST StRD', () => {
  test('SiRstv: five instruments, resistivity of silicon', () => {
    const anova = oneWayAnova([
      [196.3052, 196.124, 196.189, 196.2569, 196.3403],
      [196.3042, 196.3825, 196.1669, 196.3257, 196.0422],
      [196.1303, 196.2005, 196.2889, 196.0343, 196.1811],
      [196.2795, 196.1748, 196.1494, 196.1485, 195.9885],
      [196.2119, 196.1051, 196.185, 196.0052, 196.209],
    ]);
    if (!anova) throw new Error('no analysis');
    expect([anova.between.dof, anova.within.dof]).toEqual([4, 20]);
    expect(digits(anova.between.squares, 5.11462616e-2)).toBeGreaterThan(8);
    expect(digits(anova.within.squares, 2.1663656e-1)).toBeGreaterThan(8);
    expect(digits(anova.f, 1.18046237440255)).toBeGreaterThan(9);
    expect(digits(anova.rSquared, 0.190999039051129)).toBeGreaterThan(9);
    expect(digits(anova.residualSd, 0.104076068334656)).toBeGreaterThan(9);
    // The p-value is not certified: computed with a general numeric library.
    expect(anova.p).toBeCloseTo(0.349447, 6);
    expect(anova.perGroup).toBe(5);
  });

  test('AtmWtAg: atomic weight of silver, seven constant leading digits', () => {
    const anova = oneWayAnova([
      [
        107.8681568, 107.8681465, 107.8681572, 107.8681785, 107.8681446, 107.8681903, 107.8681526,
        107.8681494, 107.8681616, 107.8681587, 107.8681519, 107.8681486, 107.8681419, 107.8681569,
        107.8681508, 107.8681672, 107.8681385, 107.8681518, 107.8681662, 107.8681424, 107.868136,
        107.8681333, 107.868161, 107.8681477,
      ],
      [
        107.8681079, 107.8681344, 107.8681513, 107.8681197, 107.8681604, 107.8681385, 107.8681642,
        107.8681365, 107.8681151, 107.8681082, 107.8681517, 107.8681448, 107.8681198, 107.8681482,
        107.8681334, 107.8681609, 107.8681101, 107.8681512, 107.8681469, 107.868136, 107.8681254,
        107.8681261, 107.868145, 107.8681368,
      ],
    ]);
    if (!anova) throw new Error('no analysis');
    // The data in binary already differ from the decimal ones by 1e-9 of their scatter.
    expect(digits(anova.between.squares, 3.638341875e-9)).toBeGreaterThan(8);
    expect(digits(anova.within.squares, 1.04951729166667e-8)).toBeGreaterThan(8);
    expect(digits(anova.f, 15.946733567793)).toBeGreaterThan(8);
    expect(digits(anova.residualSd, 1.5104831444641e-5)).toBeGreaterThan(8);
  });

  test.each([
    [1, 1, 13],
    [4, 1e6, 8],
    [7, 1e12, 2],
  ])('SmLs0%i: nine groups of 21 upon %d, F = 21 exactly', (_set, level, least) => {
    const beta = (index: number): number => (index === 1 ? 0.2 : index % 2 === 0 ? 0.1 : 0.3);
    const groups = Array.from({ length: 9 }, (_, i) =>
      Array.from({ length: 21 }, (_unused, j) =>
        Number((level + Number((beta(i + 1) + beta(j + 1)).toFixed(1))).toFixed(1)),
      ),
    );
    const anova = oneWayAnova(groups);
    if (!anova) throw new Error('no analysis');
    expect(anova.between.dof).toBe(8);
    expect(anova.within.dof).toBe(180);
    expect(digits(anova.f, 21)).toBeGreaterThan(least);
  });
});

test('no analysis without two groups and a repeat; no scatter is said and not hidden', () => {
  expect(oneWayAnova([[1, 2]])).toBeNull();
  expect(oneWayAnova([[1], [2]])).toBeNull();
  expect(oneWayAnova([[1, 2], []])).toBeNull();
  expect(
    oneWayAnova([
      [1, 1],
      [2, 2],
    ]),
  ).toMatchObject({ f: Infinity, p: 0 });
  expect(
    oneWayAnova([
      [1, 1],
      [1, 1],
    ])?.p,
  ).toBeNaN();
});

test('linear model: GUM H.3, the thermometer (JCGM 100:2008; more digits MSLNZ/GTC)', () => {
  const t = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511];
  const b = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.16];
  const fit = linearModel(
    t.map((each) => [1, each - 20]),
    b,
  );
  if (!fit) throw new Error('no fit');
  expect(fit.coefficients[0]).toBeCloseTo(-0.1712, 4);
  expect(fit.coefficients[1]).toBeCloseTo(0.00218269773988729, 12);
  expect(Math.sqrt(fit.covariance[1]?.[1] ?? NaN)).toBeCloseTo(0.00066793877, 9);
  expect(fit.squares).toBeCloseTo(0.000110096583109, 13);
  expect(fit.dof).toBe(9);
  // Columns that depend on one another are refused: what they say apart cannot be known.
  expect(
    linearModel(
      t.map((each) => [1, each, 2 * each]),
      b,
    ),
  ).toBeNull();
});
