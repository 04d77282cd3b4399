import { describe, expect, test } from 'vitest';
import { fTail } from '../../../core/statistics/fDistribution.ts';
import { incompleteBeta, logGamma } from '../../../core/statistics/incompleteBeta.ts';

describe('the incomplete beta function', () => {
  test('exact where a closed form exists', () => {
    // I_x(1, b) = 1 − (1 − x)^b and I_x(a, 1) = x^a: from the definition.
    for (const x of [0.01, 0.3, 0.5, 0.9]) {
      expect(incompleteBeta(x, 1, 3.5)).toBeCloseTo(1 - (1 - x) ** 3.5, 13);
      expect(incompleteBeta(x, 2.5, 1)).toBeCloseTo(x ** 2.5, 13);
    }
    // The arcsine law: I_x(½, ½) = (2/π)·asin √x.
    expect(incompleteBeta(0.2, 0.5, 0.5)).toBeCloseTo(
      (2 / Math.PI) * Math.asin(Math.sqrt(0.2)),
      13,
    );
  });

  test('ln Γ at whole and half numbers', () => {
    expect(logGamma(5)).toBeCloseTo(Math.log(24), 12);
    expect(logGamma(0.5)).toBeCloseTo(0.5 * Math.log(Math.PI), 12);
    expect(logGamma(0.25) + logGamma(0.75)).toBeCloseTo(Math.log(Math.PI * Math.SQRT2), 12);
  });

  test('what is outside is refused', () => {
    expect(() => incompleteBeta(1.1, 1, 1)).toThrow(RangeError);
    expect(() => incompleteBeta(0.5, 0, 1)).toThrow(RangeError);
    expect(() => fTail(-1, 2, 3)).toThrow(RangeError);
  });
});

describe('Fisher’s distribution', () => {
  test('critical values of the load-cell case study (e-Handbook 4.6.1.5, recomputed to eight digits)', () => {
    expect(fTail(2.1511244, 18, 20)).toBeCloseTo(0.05, 8);
    expect(fTail(2.166701, 17, 20)).toBeCloseTo(0.05, 7);
  });

  test('p-value of NIST StRD SiRstv, F = 1.18046237440255 with 4 and 20', () => {
    // The p-value is not certified: computed with a general numeric library.
    expect(fTail(1.18046237440255, 4, 20)).toBeCloseTo(0.349447, 6);
  });

  test('with one degree of freedom it is the square of Student’s t', () => {
    // t(0.975; 9) = 2.262157 (JCGM 100:2008, table G.2, more digits recomputed).
    expect(fTail(2.2621571628 ** 2, 1, 9)).toBeCloseTo(0.05, 9);
  });
});
