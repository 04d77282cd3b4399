import { describe, expect, test } from 'vitest';
import { repeatabilityAverageRange } from '../../../core/compare/repeatabilityAverageRange.ts';
import { repeatabilityCrossed } from '../../../core/compare/repeatabilityCrossed.ts';
import { pooledSd, repeatabilityNested } from '../../../core/compare/repeatabilityNested.ts';
import { repeatabilityOneWay } from '../../../core/compare/repeatabilityOneWay.ts';
import { moments } from '../../../core/signal/moments.ts';
import { createNoise } from '../signal/noise.ts';

/** AIAG, Measurement Systems Analysis, 4th ed.: ten parts, appraisers A, B, C, three trials each. */
const AIAG = [
  [
    [0.29, 0.41, 0.64],
    [0.08, 0.25, 0.07],
    [0.04, -0.11, -0.15],
  ],
  [
    [-0.56, -0.68, -0.58],
    [-0.47, -1.22, -0.68],
    [-1.38, -1.13, -0.96],
  ],
  [
    [1.34, 1.17, 1.27],
    [1.19, 0.94, 1.34],
    [0.88, 1.09, 0.67],
  ],
  [
    [0.47, 0.5, 0.64],
    [0.01, 1.03, 0.2],
    [0.14, 0.2, 0.11],
  ],
  [
    [-0.8, -0.92, -0.84],
    [-0.56, -1.2, -1.28],
    [-1.46, -1.07, -1.45],
  ],
  [
    [0.02, -0.11, -0.21],
    [-0.2, 0.22, 0.06],
    [-0.29, -0.67, -0.49],
  ],
  [
    [0.59, 0.75, 0.66],
    [0.47, 0.55, 0.83],
    [0.02, 0.01, 0.21],
  ],
  [
    [-0.31, -0.2, -0.17],
    [-0.63, 0.08, -0.34],
    [-0.46, -0.56, -0.49],
  ],
  [
    [2.26, 1.99, 2.01],
    [1.8, 2.12, 2.19],
    [1.77, 1.45, 1.87],
  ],
  [
    [-1.36, -1.25, -1.31],
    [-1.68, -1.62, -1.5],
    [-1.49, -1.77, -2.16],
  ],
];

describe('crossed study: the data of AIAG’s manual', () => {
  const outcome = repeatabilityCrossed(AIAG, 0.25);
  if (!outcome.ok) throw new Error(outcome.why);
  const { study } = outcome;

  test('table of the analysis of variance', () => {
    const rows = [study.part, study.person, study.interaction, study.repeat];
    expect(rows.map(({ dof }) => dof)).toEqual([9, 2, 18, 60]);
    const squares = [88.3619, 3.1673, 0.359, 2.7589];
    const meanSquares = [9.81799, 1.58363, 0.01994, 0.04598];
    for (const [i, row] of rows.entries()) {
      expect(row.squares).toBeCloseTo(squares[i] as number, 4);
      expect(row.meanSquare).toBeCloseTo(meanSquares[i] as number, 5);
    }
    expect(study.f.part).toBeCloseTo(492.291, 3);
    expect(study.f.person).toBeCloseTo(79.406, 3);
    expect(study.f.interaction).toBeCloseTo(0.434, 3);
    expect(study.pInteraction).toBeCloseTo(0.974, 3);
  });

  test('interaction pooled; components, shares, categories', () => {
    expect(study.pooled).toBe(true);
    expect(study.error.dof).toBe(78);
    expect(study.error.meanSquare).toBeCloseTo(0.03997, 5);
    expect(study.repeatability.variance).toBeCloseTo(0.03997, 5);
    expect(study.reproducibility.variance).toBeCloseTo(0.05146, 5);
    expect(study.gauge.variance).toBeCloseTo(0.09143, 5);
    expect(study.parts.variance).toBeCloseTo(1.08645, 5);
    expect(study.total.variance).toBeCloseTo(1.17788, 5);
    expect(study.gauge.sd).toBeCloseTo(0.30237, 5);
    expect(study.parts.sd).toBeCloseTo(1.04233, 5);
    expect(study.total.sd).toBeCloseTo(1.0853, 5);
    const percent = (a: number, b: number): number => Number(((100 * a) / b).toFixed(2));
    expect(percent(study.gauge.variance, study.total.variance)).toBe(7.76);
    expect(percent(study.parts.variance, study.total.variance)).toBe(92.24);
    expect(percent(study.gauge.sd, study.total.sd)).toBe(27.86);
    expect(percent(study.repeatability.sd, study.total.sd)).toBe(18.42);
    expect(percent(study.reproducibility.sd, study.total.sd)).toBe(20.9);
    expect(percent(study.parts.sd, study.total.sd)).toBe(96.04);
    expect(percent(6 * study.gauge.sd, 8)).toBe(22.68);
    expect(study.categories).toBe(4);
  });

  test('not pooled: the interaction’s share below zero stays out of the gauge', () => {
    const apart = repeatabilityCrossed(AIAG, 0.99);
    if (!apart.ok) throw new Error(apart.why);
    expect(apart.study.pooled).toBe(false);
    // By hand from the mean squares: repeats 0.04598, persons (1.58363 − 0.01994)/30.
    const persons = (1.58363 - 0.01994) / 30;
    expect(apart.study.reproducibility.variance).toBeCloseTo(persons, 4);
    expect(apart.study.gauge.variance).toBeCloseTo(0.04598 + persons, 4);
  });

  test('what is no such study', () => {
    expect(repeatabilityCrossed(AIAG.slice(0, 1), 0.25).ok).toBe(false);
    expect(repeatabilityCrossed([...AIAG, [[1, 2, 3]]], 0.25)).toEqual({
      ok: false,
      why: 'unequal numbers',
    });
  });
});

test('average and range on the same data (AIAG, with K1, K2, K3 of its tables)', () => {
  const study = repeatabilityAverageRange(AIAG);
  if (!study) throw new Error('no study');
  expect(study.rangeMean).toBeCloseTo(0.341667, 6);
  expect(study.personRange).toBeCloseTo(0.444667, 6);
  // AIAG rounds K1 = 0.5908, K2 = 0.5231, K3 = 0.3146 to four digits.
  expect(study.equipment).toBeCloseTo(0.20186, 4);
  expect(study.appraiser).toBeCloseTo(0.22967, 4);
  expect(study.gauge).toBeCloseTo(0.30577, 4);
  expect(study.parts).toBeCloseTo(1.1046, 3);
  expect(study.total).toBeCloseTo(1.14613, 3);
  expect(100 * study.gaugeShare).toBeCloseTo(26.68, 1);
  expect(study.categories).toBe(5);
  expect(repeatabilityAverageRange([[[1, 2]]])).toBeNull();
});

describe('nested study', () => {
  test('NIST’s wafers (e-Handbook 2.4.4): pooled standard deviations of levels 1 and 3', () => {
    const level1 = [0.48115, 0.69209, 0.48483, 1.21752, 0.30076];
    expect(pooledSd(level1.map((squares) => ({ squares, dof: 60 })))).toBeCloseTo(0.1029, 5);
    const level3 = [0.0223, 0.0027, 0.0289, 0.0133, 0.0205];
    expect(pooledSd(level3.map((sd) => ({ squares: sd ** 2, dof: 1 })))).toBeCloseTo(0.0197, 4);
  });

  test('the handbook’s dof: five wafers, two runs, six days, six readings give 300, 50, 5', () => {
    const noise = createNoise(81);
    const items = Array.from({ length: 5 }, () =>
      Array.from({ length: 2 }, () =>
        Array.from({ length: 6 }, () => Array.from({ length: 6 }, () => noise.normal())),
      ),
    );
    const study = repeatabilityNested(items);
    expect([study?.level1.dof, study?.level2.dof, study?.level3.dof]).toEqual([300, 50, 5]);
  });

  test('components that were put in are found on average, and lie in their intervals', () => {
    const noise = createNoise(82);
    const [run, day, reading] = [0.5, 0.8, 1];
    const trials = 500;
    let inside = { repeatability: 0, days: 0, runs: 0 };
    const sums = [0, 0, 0];
    for (let trial = 0; trial < trials; trial += 1) {
      const items = Array.from({ length: 3 }, () =>
        Array.from({ length: 3 }, () => {
          const ofRun = run * noise.normal();
          return Array.from({ length: 4 }, () => {
            const ofDay = ofRun + day * noise.normal();
            return Array.from({ length: 3 }, () => ofDay + reading * noise.normal());
          });
        }),
      );
      const study = repeatabilityNested(items);
      if (!study) throw new Error('no study');
      const holds = (e: { lower: number; upper: number }, truth: number): number =>
        e.lower <= truth && truth <= e.upper ? 1 : 0;
      inside = {
        repeatability: inside.repeatability + holds(study.repeatability, reading),
        days: inside.days + holds(study.days, day),
        runs: inside.runs + holds(study.runs, run),
      };
      for (const [i, e] of [study.repeatability, study.days, study.runs].entries())
        sums[i] = (sums[i] as number) + e.variance / trials;
    }
    // Three standard deviations of a share over 500 trials: 0.029.
    for (const count of Object.values(inside)) expect(count / trials).toBeGreaterThan(0.92);
    expect(sums[0]).toBeCloseTo(1, 1);
    expect(sums[1]).toBeCloseTo(0.64, 1);
    expect(sums[2]).toBeCloseTo(0.25, 1);
  });

  test('unequal numbers are refused', () => {
    expect(
      repeatabilityNested([
        [
          [
            [1, 2],
            [1, 2],
          ],
          [[1, 2]],
        ],
      ]),
    ).toBeNull();
  });
});

describe('groups of readings (JCGM 100:2008, H.5)', () => {
  test('ten days of five readings of a voltage standard', () => {
    // Published day means and standard deviations (µV); five readings made to have exactly those.
    const means = [172, 116, 13, 144, 106, 31, 60, 125, 163, 41];
    const sds = [60, 77, 111, 101, 67, 93, 80, 73, 88, 86];
    const shape = [-2, -1, 0, 1, 2].map((each) => each / Math.sqrt(2.5));
    const days = means.map((mean, i) => shape.map((each) => mean + (sds[i] as number) * each));
    const study = repeatabilityOneWay(days);
    if (!study) throw new Error('no study');
    expect(moments(means).mean).toBeCloseTo(97, 0);
    expect(moments(means).sd).toBeCloseTo(57, 0);
    expect(study.repeatability.sd).toBeCloseTo(85, 0);
    // F = 2.25 in the GUM; 2.2615 recomputed from the rounded means.
    expect(study.anova.f).toBeCloseTo(2.2615, 3);
    expect([study.anova.between.dof, study.anova.within.dof]).toEqual([9, 40]);
    // s_B² = (5·57² − 85²)/5, H.5.2.3: the GUM's 43 µV; here from unrounded mean squares.
    expect(study.between.sd).toBeCloseTo(43, -1);
    expect(study.intermediate.variance).toBeCloseTo(
      study.between.variance + study.repeatability.variance,
      9,
    );
  });
});
