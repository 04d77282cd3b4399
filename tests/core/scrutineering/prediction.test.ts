import { describe, expect, test } from 'vitest';
import { offset } from '../../../core/scrutineering/offset.ts';
import {
  marginAt,
  mustRead,
  passing,
  tailBeyond,
  theirReading,
  type Prediction,
} from '../../../core/scrutineering/prediction.ts';
import { statedPrediction } from '../../../core/scrutineering/stated.ts';
import { measured } from '../../../core/measured.ts';
import { failures } from '../../studies/scrutineering.ts';
import { asked, pairsOf } from './pairs.ts';
import { near } from './near.ts';

const known = (input: Parameters<typeof offset>[0]) => {
  const found = offset(input);
  if (!found.ok) throw new Error(found.why);
  return found;
};
/** Single readings as events of one pair each. */
const ofReadings = (readings: readonly number[], days?: readonly number[], followTo?: number) =>
  known(
    asked(
      pairsOf(
        readings.map((value) => [value]),
        { ours: 0, ...(days ? { days } : {}) },
      ),
      { followTo: followTo ?? null },
    ),
  );

describe('published prediction intervals', () => {
  test('fat content of hot dogs, one more: J. L. Devore, Probability and Statistics, example 7.13', () => {
    const { prediction } = ofReadings([25.2, 21.3, 22.8, 17.0, 29.8, 21.0, 25.5, 16.0, 20.9, 19.5]);
    const next = theirReading(prediction, 0, 0.95);
    // Published: 21.90 and s 4.134 (read in a copy), interval 12.09 to 31.71 (from memory).
    expect(next.value).toBeCloseTo(21.9, 6);
    expect(next.low).toBeCloseTo(12.09, 2);
    expect(next.high).toBeCloseTo(31.71, 2);
  });

  test('life of tyres: D. C. Montgomery and G. C. Runger, Applied Statistics, exercise 8-73', () => {
    const prediction: Prediction = {
      shift: 60139.7,
      between: 3645.94 ** 2 * (1 + 1 / 16),
      dof: 15,
      within: 0,
      limit: 0,
    };
    const { low, high } = theirReading(prediction, 0, 0.95);
    // Published 52131.08 to 68148.31, with t rounded to 2.131.
    expect(Math.abs(low - 52131.08)).toBeLessThan(2);
    expect(Math.abs(high - 68148.31)).toBeLessThan(2);
  });

  test('rocket propellant, new motor at 10 weeks: Montgomery, Peck and Vining, example 2.7', () => {
    const weeks = [
      15.5, 23.75, 8, 17, 5.5, 19, 24, 2.5, 7.5, 11, 13, 3.75, 25, 9.75, 22, 18, 6, 12.5, 2, 21.5,
    ];
    const strength = [
      2158.7, 1678.15, 2316, 2061.3, 2207.5, 1708.3, 1784.7, 2575, 2357.9, 2256.7, 2165.2, 2399.55,
      1779.8, 2336.75, 1765.3, 2053.5, 2414.4, 2200.5, 2654.2, 1753.7,
    ];
    const { low, high } = theirReading(ofReadings(strength, weeks, 10).prediction, 0, 0.95);
    // Published 2048.32 to 2464.32 psi, from rounded intermediate values.
    expect(Math.abs(low - 2048.32)).toBeLessThan(0.15);
    expect(Math.abs(high - 2464.32)).toBeLessThan(0.15);
  });

  test('variance of a new observation on a line: Natrella, NBS Handbook 91, 5-4.1', () => {
    const x = [30, 100, 200, 300, 400, 500, 600, 700, 800, 900, 1000, 1100, 1200, 1300, 1400, 1500];
    const y = [
      4642, 4612, 4565, 4513, 4476, 4433, 4389, 4347, 4303, 4251, 4201, 4140, 4100, 4073, 4024,
      3999,
    ];
    const { prediction, trend } = ofReadings(y, x, 750);
    expect(prediction.between).toBeCloseTo(91.453916, 4);
    expect(trend?.perDay).toBeCloseTo(-0.449854824, 8);
    expect((trend?.u ?? 0) ** 2).toBeCloseTo(0.000025649045, 11);
  });

  test('variance with groups: Lin and Liao, as a public R function has it, on StRD SiRstv', () => {
    const instruments = [
      [196.3052, 196.124, 196.189, 196.2569, 196.3403],
      [196.3042, 196.3825, 196.1669, 196.3257, 196.0422],
      [196.1303, 196.2005, 196.2889, 196.0343, 196.1811],
      [196.2795, 196.1748, 196.1494, 196.1485, 195.9885],
      [196.2119, 196.1051, 196.185, 196.0052, 196.209],
    ];
    const { prediction } = known(asked(pairsOf(instruments, { ours: 0 })));
    // v = (1 + 1/I)/(J(I − 1))·SSB + SSW/(I·J), with the certified sums of squares.
    const between = ((1 + 1 / 5) / (5 * 4)) * 5.11462616e-2;
    const within = 2.1663656e-1 / 25;
    expect(prediction.between).toBeCloseTo(between, 9);
    expect(prediction.within).toBeCloseTo(within, 9);
    expect(prediction.dof).toBe(4);
  });
});

test('two single pairs at 99 %: 39 standard deviations, as one-sided Student t has it', () => {
  const { prediction, scatter } = known(asked(pairsOf([[1], [1.4]])));
  const sd = Math.sqrt(scatter.between?.value ?? 0);
  // t(0.99, 1) = 31.8205, times √1.5.
  expect(marginAt(prediction, 0.01) / sd).toBeCloseTo(31.8205 * Math.sqrt(1.5), 2);
});

test('tails and margins are each other’s inverse, on both sides of the centre', () => {
  const predictions: readonly Prediction[] = [
    { shift: 0, between: 0.3, dof: 1, within: 0, limit: 0 },
    { shift: 0, between: 0.3, dof: 4, within: 0.2, limit: 0 },
    { shift: 0, between: 0.01, dof: Infinity, within: 0, limit: 0.5 },
  ];
  for (const prediction of predictions)
    for (const tail of [1e-6, 0.001, 0.01, 0.2, 0.499, 0.501, 0.9, 0.999])
      expect(tailBeyond(prediction, marginAt(prediction, tail)) / tail).toBeCloseTo(1, 6);
});

test('two and three events: tails in closed form, at any margin', () => {
  // Student's t of 1 and 2 degrees of freedom: the Cauchy distribution, and ½ − t/(2√(2 + t²)).
  const closed = [
    (t: number): number => 0.5 - Math.atan(t) / Math.PI,
    (t: number): number => 0.5 - t / (2 * Math.sqrt(2 + t ** 2)),
  ];
  for (const [index, tail] of closed.entries())
    for (let margin = -60; margin <= 60; margin += 0.37) {
      const found = tailBeyond(
        { shift: 0, between: 1.9, dof: index + 1, within: 0, limit: 0 },
        margin,
      );
      expect(found).toBeCloseTo(tail(margin / Math.sqrt(1.9)), 8);
    }
});

test('the margin of single pairs is Student’s, the normal one where it is known', () => {
  const of = (dof: number): number =>
    marginAt({ shift: 0, between: 1, dof, within: 0, limit: 0 }, 0.005);
  // Reference table of t, two-sided 99 %.
  for (const [dof, t] of [
    [1, 63.6567],
    [2, 9.9248],
    [5, 4.0321],
    [15, 2.9467],
    [60, 2.6603],
    [Infinity, 2.5758],
  ] as const)
    expect(Math.abs(of(dof) - t)).toBeLessThan(3e-4);
});

describe('what we must read', () => {
  const prediction: Prediction = { shift: -0.8, between: 0.09, dof: 6, within: 0.04, limit: 0 };

  test('brings their reading over the limit just as surely as wished', () => {
    const must = mustRead(prediction, { low: 1305, high: null }, 0.99);
    if (!must.ok) throw new Error(must.why);
    expect(must.high).toBeNull();
    expect(passing(prediction, must.low ?? 0, { low: 1305, high: null })).toBeCloseTo(0.99, 8);
    expect(must.low).toBeGreaterThan(1305.8);
  });

  test('between two limits both edges pass as surely as wished, and the middle more surely', () => {
    const limit = { low: -0.06, high: -0.05 };
    const camber: Prediction = { shift: 0.0004, between: 1e-6, dof: 8, within: 0, limit: 0 };
    const must = mustRead(camber, limit, 0.95);
    if (!must.ok) throw new Error(must.why);
    for (const edge of [must.low, must.high])
      expect(passing(camber, edge ?? NaN, limit)).toBeCloseTo(0.95, 8);
    expect((must.low ?? 0) + (must.high ?? 0)).toBeCloseTo(2 * (-0.055 - 0.0004), 10);
  });

  test('limits closer together than their readings scatter are refused, and a limit upside down', () => {
    expect(mustRead(prediction, { low: 1305, high: 1305.5 }, 0.99)).toEqual({
      ok: false,
      why: 'No reading of ours passes so surely: their limits are closer together than their readings scatter.',
    });
    expect(mustRead(prediction, { low: 2, high: 1 }, 0.99).ok).toBe(false);
    expect(mustRead(prediction, { low: null, high: null }, 0.99).ok).toBe(false);
    expect(mustRead(prediction, { low: 1, high: null }, 0.3).ok).toBe(false);
  });
});

describe('without pairs', () => {
  test('limits of error are taken at their worst, so that the chance is at least', () => {
    const stated = statedPrediction(
      { basis: 'limits of error', limit: 0.5 },
      measured(1306, 0.2, Infinity),
    );
    if (!stated.ok) throw new Error(stated.why);
    const must = mustRead(stated.prediction, { low: 1305, high: null }, 0.99);
    // z(0.99) = 2.3263.
    expect(must.ok && must.low).toBeCloseTo(1305 + 0.5 + 2.3263 * 0.2, 3);
  });

  test('what is stated and our own uncertainty add up in squares', () => {
    const stated = statedPrediction(
      { basis: 'stated', difference: -1, u: 0.3 },
      measured(1306, 0.4, 9),
    );
    expect(stated).toEqual({
      ok: true,
      prediction: {
        shift: -1,
        between: near(0.25, 12),
        dof: near((9 * 0.25 ** 2) / 0.4 ** 4, 9),
        within: 0,
        limit: 0,
      },
    });
  });

  test('certainty is refused', () => {
    expect(
      statedPrediction({ basis: 'stated', difference: 0, u: 0 }, measured(1, 0, Infinity)).ok,
    ).toBe(false);
    expect(statedPrediction({ basis: 'limits of error', limit: -1 }, measured(1, 0.1, 5)).ok).toBe(
      false,
    );
  });
});

// The study in full: npm run study -- scrutineering.
describe('failing at a wished 1 %, before plates are rounded', () => {
  test.each([
    [2, 0],
    [2, 2],
    [3, 1],
    [8, 0.5],
    [20, 0],
  ])('%i events of 1 to 4 pairs, event bias %d times the scatter of a pair', (events, bias) => {
    const rate = failures({ events, pairs: null, bias }, { from: 1, count: 1000 });
    expect(rate).toBeGreaterThan(0.005);
    expect(rate).toBeLessThan(0.015);
  });
});
