import { describe, expect, test } from 'vitest';
import { twoSidedQuantile, twoSidedTail, upperTail } from '../../../core/compare/studentTails.ts';
import { verifiable } from '../../../core/compare/verifiable.ts';
import {
  changeInterval,
  equivalenceTail,
  finestLimit,
  leastRatio,
  verdict,
} from '../../../core/compare/verdict.ts';
import { measured } from '../../../core/measured.ts';
import { moments } from '../../../core/signal/moments.ts';
import {
  pairedDifference,
  pooledDifference,
  welchDifference,
} from '../../../core/statistics/meanDifference.ts';

describe('two one-sided tests against the package "equivalence" of R', () => {
  // Its output for the clinic data of the package "ETC", as statsmodels keeps it in test_tost.py:
  // difference, standard error, degrees of freedom; 90 % interval and probability at ±0.6.
  test.each([
    [0.5626666666666665, 0.2478276410785118, 14, 0.1261653305, 0.9991680028, 0.4412034046],
    [0.1646666666666667, 0.1357514067862445, 14, -0.0744336621, 0.4037669954, 0.0031668815],
    [
      0.562666666666666, 0.2149871904637392, 24.11000151062728, 0.1949162507, 0.9304170826,
      0.4317936813,
    ],
    [
      0.1646666666666667, 0.2531625991083627, 26.7484787582315, -0.2666862981, 0.5960196314,
      0.0485308398,
    ],
    [0.1646666666666667, 0.2531625991083628, 28, -0.2659960621, 0.5953293954, 0.048273151],
  ])('difference %f, u %f, %f degrees of freedom', (value, u, dof, low, high, tail) => {
    const change = measured(value, u, dof);
    const [from, to] = changeInterval(change);
    expect(from).toBeCloseTo(low, 8);
    expect(to).toBeCloseTo(high, 8);
    const found = equivalenceTail(change, 0.6);
    expect(found).toBeCloseTo(tail, 8);
    // The interval inside the limits and the test at 5 % are one and the same.
    expect(found <= 0.05).toBe(from > -0.6 && to < 0.6);
    expect(verdict(change, 0.6, false)).toBe(found <= 0.05 ? 'same' : 'cannot tell');
  });

  test('a ratio, at the logarithm of 1.25', () => {
    const change = measured(0.04312233182252334, 0.073508371131806, 27.61177037646526);
    expect(equivalenceTail(change, Math.log(1.25))).toBeCloseTo(0.01047085593138891, 10);
    const paired = measured(0.0431223318225235, 0.03819576328421437, 14);
    expect(equivalenceTail(paired, Math.log(1.25))).toBeCloseTo(0.0001664157928976468, 10);
    expect(changeInterval(paired)[1]).toBeCloseTo(0.1103969168386687, 10);
  });
});

/** Student's sleep data (Biometrika 6 (1908) 1). */
const A = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0];
const B = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];

describe('the same numbers paired and not (t.test of R on the sleep data)', () => {
  test('unpaired they do not exclude zero, paired they do', () => {
    const welch = welchDifference(moments(A), moments(B))?.difference;
    const paired = pairedDifference(A, B)?.difference;
    if (!welch || !paired) throw new Error('no difference');
    expect(twoSidedTail(welch.value / welch.u, welch.dof)).toBeCloseTo(0.07939, 5);
    expect(twoSidedTail(paired.value / paired.u, paired.dof)).toBeCloseTo(0.00283289, 8);
    const limit = 1.5;
    expect(verdict(welch, limit, false)).toBe('cannot tell');
    expect(verdict(paired, limit, true)).toBe('moved');
  });

  test('paired, the smallest limit that makes them the same', () => {
    // SciPy 1.17: |−1.58| + t(0.95, 9)·0.3889587238883952 = 2.293005267029284.
    const paired = pairedDifference(A, B)?.difference;
    if (!paired) throw new Error('no difference');
    expect(changeInterval(paired)[0]).toBeCloseTo(-2.29300527, 7);
    expect(verdict(paired, 2.293, true)).toBe('cannot tell');
    expect(verdict(paired, 2.2931, true)).toBe('same');
    expect(equivalenceTail(paired, 2.5)).toBeCloseTo(0.021116860246500745, 10);
  });

  test('AUTO83B (NIST/SEMATECH e-Handbook 1.3.5.3)', () => {
    const found = pooledDifference(
      { count: 249, mean: 20.14458, sd: 6.4147 },
      { count: 79, mean: 30.48101, sd: 6.10771 },
    )?.difference;
    if (!found) throw new Error('no difference');
    expect(found.value / found.u).toBeCloseTo(-12.62059, 4);
    expect(twoSidedQuantile(0.05, found.dof)).toBeCloseTo(1.9673, 4);
    expect(verdict(found, 9, twoSidedTail(found.value / found.u, found.dof) <= 0.05)).toBe('moved');
    expect(verdict(found, 12, true)).toBe('same');
  });
});

test('Student’s t from normal to one degree of freedom', () => {
  // JCGM 100 table G.2 and the normal distribution's 1.959964.
  expect(twoSidedQuantile(0.05, Infinity)).toBeCloseTo(1.959964, 6);
  expect(twoSidedQuantile(0.05, 10)).toBeCloseTo(2.228, 3);
  expect(twoSidedTail(1.959963985, Infinity)).toBeCloseTo(0.05, 9);
  expect(upperTail(-1, 1)).toBeCloseTo(0.75, 12);
  expect(twoSidedTail(Infinity, 3)).toBe(0);
  expect(() => twoSidedTail(1, 0)).toThrow(RangeError);
});

describe('never finer than we can see', () => {
  test('2.9 standard uncertainties, and more where those are known from few readings', () => {
    expect(leastRatio(Infinity)).toBeCloseTo(2.9, 12);
    // (t.95 + t.90) at 5 against 1.644854 + 1.281552: (2.015048 + 1.475884)/2.926406·2.9.
    expect(leastRatio(5)).toBeCloseTo(3.45945, 4);
    expect(finestLimit({ u: 0.2, dof: Infinity })).toBeCloseTo(0.58, 12);
  });

  test('moved needs both: beyond the limit, and not by chance', () => {
    const change = measured(1, 0.1, Infinity);
    expect(verdict(change, 0.5, true)).toBe('moved');
    expect(verdict(change, 0.5, false)).toBe('cannot tell');
    expect(verdict(change, 1, true)).toBe('cannot tell');
    expect(verdict(measured(-1, 0.1, Infinity), 0.9, true)).toBe('moved');
    expect(verdict(change, 1.2, true)).toBe('same');
  });
});

describe('can a tolerance be verified', () => {
  const known = (u: number) => ({ u, dof: Infinity });

  test('with the readings planned, or with how many', () => {
    // u(d) = 0.2·√2 = 0.28284; 0.5/0.28284 = 1.768. It takes 0.5/2.9 = 0.17241 = 0.2·√(2/n): n = 2.69.
    const found = verifiable({
      limit: 0.5,
      repeat: known(0.2),
      laying: null,
      unshared: 0,
      readings: 1,
    });
    expect(found.ok).toBe(false);
    expect(found.ratio).toBeCloseTo(1.76777, 5);
    expect(found.finest).toBeCloseTo(0.820244, 6);
    expect(found.readings).toBe(3);
    const three = { limit: 0.5, repeat: known(0.2), laying: null, unshared: 0, readings: 3 };
    expect(verifiable(three).ok).toBe(true);
  });

  test('what more readings do not make smaller limits it', () => {
    const relaid = {
      limit: 0.5,
      repeat: known(0.2),
      laying: known(0.15),
      unshared: 0,
      readings: 2,
    };
    // 0.15·√2·2.9 = 0.615 is above 0.5 whatever is read.
    expect(verifiable(relaid).readings).toBeNull();
    expect(verifiable({ ...relaid, laying: null, unshared: 0.2 }).readings).toBeNull();
    expect(verifiable({ ...relaid, limit: 0.9 }).ok).toBe(true);
    expect(() => verifiable({ ...relaid, limit: 0 })).toThrow(RangeError);
    expect(() => verifiable({ ...relaid, readings: 0 })).toThrow(RangeError);
  });
});
