import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { balance } from '../../../core/balance/balance.ts';
import { measured } from '../../../core/measured.ts';
import { spanDrift } from '../../../core/season/spanDrift.ts';
import {
  frictionTerm,
  gravityTerm,
  patchTwistTerm,
  readingTerm,
  repeatabilityTerm,
  wheelRadiusTerm,
  windTerms,
} from '../../../core/uncertainty/carTerms.ts';
import {
  cornerBudget,
  shareDerivatives,
  type CornerTerm,
  type FourParts,
} from '../../../core/uncertainty/cornerTerm.ts';
import {
  calibrationTerm,
  creepAndHysteresisTerm,
  offCentreTerm,
  referenceMassesTerm,
  resolutionTerm,
  spanDriftTerm,
  temperatureTerm,
  zeroTerm,
  type FourKnown,
} from '../../../core/uncertainty/padTerms.ts';
import { TERM_LABELS } from '../../../core/uncertainty/budget.ts';
import { createNoise } from '../signal/noise.ts';

/** The example car: loads, warp pattern, and 4.3 kg at the left front for 1 mm of twist (derived). */
const WEIGHTS: FourParts = [312.411, 307.464, 344.789, 340.336];
const RATIO = 1.68 / 1.65;
const WARP = { pattern: [1, -1, -RATIO, RATIO] as FourParts, perMetre: 4307 };
const TOTAL: FourParts = [1, 1, 1, 1];
const LF: FourParts = [1, 0, 0, 0];
const CROSS = shareDerivatives(WEIGHTS, [0, 1, 1, 0], TOTAL);
const FRONT = shareDerivatives(WEIGHTS, [1, 1, 0, 0], TOTAL);
const same = <T>(value: T): FourKnown<T> => [value, value, value, value];
const u = (term: CornerTerm, derivatives: FourParts): number => cornerBudget([term], derivatives).u;

describe('how each cause reaches a result', () => {
  test('a twist of 0.1 mm: 0.43 kg on a corner, nothing on the total and the front share', () => {
    const term = patchTwistTerm(WARP, { u: 1e-4, dof: 8 });
    expect(u(term, LF)).toBeCloseTo(0.4307, 4);
    expect(u(term, TOTAL)).toBe(0);
    expect(u(term, FRONT)).toBe(0);
    // Cross: two corners of the diagonal together, (1 + r)·0.43 kg over the total.
    expect(u(term, CROSS)).toBeCloseTo(((1 + RATIO) * 0.4307) / 1305, 6);
    const [line] = cornerBudget([term], LF).lines;
    expect(line).toMatchObject({ u: 1e-4, dof: 8, sensitivity: 4307 });
  });

  test('four wheels of ±0.05 mm are a twist of √Σn² as much', () => {
    const term = wheelRadiusTerm(WARP, { u: 5e-5, dof: Infinity });
    expect(u(term, LF)).toBeCloseTo(4307 * 5e-5 * Math.sqrt(2 + 2 * RATIO ** 2), 9);
  });

  test('gravity and the masses act on all in proportion: on the total, never on a share', () => {
    for (const term of [
      gravityTerm(WEIGHTS, { u: 5e-5, dof: Infinity }),
      referenceMassesTerm(WEIGHTS, { u: 5e-5, dof: Infinity }),
    ]) {
      expect(u(term, TOTAL)).toBeCloseTo(1305 * 5e-5, 6);
      expect(u(term, CROSS)).toBe(0);
    }
  });

  test('friction: half the band, rectangular, along the warp', () => {
    expect(u(frictionTerm(WARP, 1.2), LF)).toBeCloseTo(0.6 / Math.sqrt(3), 12);
    expect(u(frictionTerm(WARP, 1.2), TOTAL)).toBe(0);
  });

  test('wind: side force leaves the total alone, lift leaves the shares alone', () => {
    const [side, lift] = windTerms(WEIGHTS, { side: 2, lift: 3 });
    if (!side || !lift) throw new Error('two terms');
    expect(u(side, TOTAL)).toBe(0);
    expect(u(side, [1, 0, 1, 0])).toBeCloseTo(2 / Math.SQRT2, 12);
    expect(u(lift, TOTAL)).toBeCloseTo(3 / Math.SQRT2, 12);
    expect(u(lift, CROSS)).toBe(0);
  });

  test('scatter with its covariance: what corners trade is not in the total; means of n lowerings', () => {
    const covariance = WARP.pattern.flatMap((a) => WARP.pattern.map((b) => 0.04 * a * b));
    const term = repeatabilityTerm({ covariance, dof: 12 }, 4);
    expect(u(term, LF)).toBeCloseTo(0.1, 12);
    expect(cornerBudget([term], LF).dof).toBeCloseTo(12, 9);
    expect(u(term, TOTAL)).toBeCloseTo(0, 9);
    expect(u(readingTerm(covariance, 5), LF)).toBeCloseTo(0.2, 12);
    expect(() => readingTerm([1], 5)).toThrow(RangeError);
    expect(() => repeatabilityTerm(null, 0)).toThrow(RangeError);
  });

  test('of each pad: cg-18’s worked example, corner by corner', () => {
    const off = same({ largest: 0.15, testLoad: 150, reach: 1 });
    const at300: FourParts = [300, 300, 300, 300];
    expect(u(offCentreTerm(at300, off), LF)).toBeCloseTo(0.0866025, 7);
    expect(u(resolutionTerm(same(0.1)), LF)).toBeCloseTo(Math.hypot(0.0288675, 0.0288675), 7);
    // Four independent pads: twice one on the total.
    expect(u(resolutionTerm(same(0.1)), TOTAL)).toBeCloseTo(2 * 0.0408248, 6);
    expect(u(calibrationTerm(same({ u: 0.03, dof: 10 })), TOTAL)).toBeCloseTo(0.06, 12);
    expect(cornerBudget([calibrationTerm(same({ u: 0.03, dof: 10 }))], TOTAL).dof).toBeCloseTo(
      40,
      9,
    );
    const memory = creepAndHysteresisTerm(same({ hysteresis: 0.12, creep: 0 }));
    expect(u(memory, LF)).toBeCloseTo(0.12 / (2 * Math.sqrt(3)), 12);
  });

  test('zero: its reading, and the shift found afterwards or those of the past', () => {
    const reading = { u: 0.01, dof: 30 };
    const history = { u: 0.05, dof: 12 };
    const after = zeroTerm(same({ reading, shiftAfter: -0.09, shiftHistory: history }));
    expect(u(after, LF)).toBeCloseTo(Math.hypot(0.01, 0.09 / Math.sqrt(3)), 12);
    const before = zeroTerm(same({ reading, shiftAfter: null, shiftHistory: history }));
    expect(u(before, LF)).toBeCloseTo(Math.hypot(0.01, 0.05), 12);
    const neither = zeroTerm(same({ reading, shiftAfter: null, shiftHistory: null }));
    expect(cornerBudget([neither], LF).unknown).toEqual(['zero']);
  });

  test('span drift and temperature go with the load; an effect only bounded counts with its bound', () => {
    const drift = spanDrift([{ sinceCalibration: 1e6, relative: 2e-4, u: 1e-4 }], {
      at: 1e6,
      uMass: 0,
    });
    const term = spanDriftTerm(WEIGHTS, same(drift));
    expect(u(term, LF)).toBeCloseTo(312.411 * Math.hypot(2e-4, 1e-4), 9);
    expect(cornerBudget([spanDriftTerm(WEIGHTS, same({ known: false }))], LF).unknown).toEqual([
      'spanDrift',
    ]);
    const bound = { supported: false, why: [], bound: measured(0.002, 0.003, 9) } as const;
    const pad = { zero: bound, span: { ...bound, bound: null }, sinceZero: 4, sinceCalibration: 0 };
    expect(u(temperatureTerm(WEIGHTS, same(pad)), LF)).toBeCloseTo(
      4 * Math.hypot(0.002, 0.003),
      12,
    );
    const untold = { ...pad, sinceCalibration: 7 };
    expect(cornerBudget([temperatureTerm(WEIGHTS, same(untold))], LF).unknown).toEqual([
      'temperature',
    ]);
  });
});

/** Everything that may be asked of nothing: the terms of a bench that knows only its window. */
const nothingKnown = (): CornerTerm[] => [
  readingTerm(new Array<number>(16).fill(0), 5),
  repeatabilityTerm(null, 1),
  calibrationTerm(same(null)),
  referenceMassesTerm(WEIGHTS, null),
  zeroTerm(same(null)),
  creepAndHysteresisTerm(same(null)),
  spanDriftTerm(WEIGHTS, same(null)),
  resolutionTerm(same(null)),
  temperatureTerm(WEIGHTS, same(null)),
  offCentreTerm(WEIGHTS, same(null)),
  frictionTerm(WARP, null),
  ...windTerms(WEIGHTS, null),
  wheelRadiusTerm(WARP, null),
  patchTwistTerm(WARP, null),
  gravityTerm(WEIGHTS, null),
];

test('every term has a constructor, in the order shown, and says what would make it known', () => {
  const terms = nothingKnown();
  expect(terms.map(({ name }) => name)).toEqual(Object.keys(TERM_LABELS));
  const found = cornerBudget(terms, LF);
  expect(found.unknown).toEqual(Object.keys(TERM_LABELS).slice(1));
  expect(found.complete).toBe(false);
  for (const { source } of found.lines) expect(source.length).toBeGreaterThan(8);
  // The warp cannot reach the total, gravity cannot reach a share: not unknown there.
  const ofTotal = cornerBudget(terms, TOTAL).unknown;
  for (const name of ['frictionAndScrub', 'wheelRadius', 'patchTwist'] as const)
    expect(ofTotal).not.toContain(name);
  const ofShare = cornerBudget(terms, CROSS).unknown;
  expect(ofShare).not.toContain('gravity');
  expect(ofShare).not.toContain('referenceMasses');
  expect(ofShare).toContain('patchTwist');
});

test('one pad without its number makes the term unknown, not smaller', () => {
  const three = calibrationTerm([{ u: 1, dof: 5 }, { u: 1, dof: 5 }, null, { u: 1, dof: 5 }]);
  expect(cornerBudget([three], TOTAL)).toMatchObject({ u: 0, unknown: ['calibration'] });
});

test('property: a budget of covariance alone is what the balance propagates', () => {
  const noise = createNoise(131);
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 1000 }), () => {
      const root = Array.from({ length: 4 }, () => Array.from({ length: 4 }, () => noise.normal()));
      const covariance = root.flatMap((a) =>
        root.map((b) => a.reduce((sum, each, k) => sum + each * (b[k] as number), 0)),
      );
      const forces = {
        LF: measured(WEIGHTS[0], 1, 5),
        RF: measured(WEIGHTS[1], 1, 5),
        LR: measured(WEIGHTS[2], 1, 5),
        RR: measured(WEIGHTS[3], 1, 5),
      };
      const whole = balance({
        forces,
        covariance,
        gravity: 1,
        cross: 'RF+LR',
        wheelbase: 2.7,
        trackFront: 1.68,
        trackRear: 1.65,
      });
      const term = readingTerm(covariance, 5);
      expect(u(term, CROSS)).toBeCloseTo(whole?.crossShare.u ?? NaN, 12);
      expect(u(term, FRONT)).toBeCloseTo(whole?.frontShare.u ?? NaN, 12);
      expect(u(term, TOTAL)).toBeCloseTo(whole?.total.u ?? NaN, 9);
    }),
    { seed: 132, numRuns: 50 },
  );
});

test('shares of nothing are refused', () => {
  expect(() => shareDerivatives([0, 0, 0, 0], [1, 1, 0, 0], TOTAL)).toThrow(RangeError);
});
