import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  forcePerCount,
  nominalCalibration,
  toForce,
  toReading,
  type Calibration,
} from '../../../core/calibration/calibration.ts';
import { second } from '../../../core/units.ts';

const RATING = { ratedLoad: 500, countsAtRatedLoad: 4_194_304, resolution: 1 };

test('the rating gives a nominal span that is marked as one', () => {
  const nominal = nominalCalibration(RATING);
  expect(nominal).toMatchObject({ id: null, calibrated: false, uRelative: null });
  // 500 kg under standard gravity is 4903.325 N.
  expect(toForce(nominal, 0, 4_194_304)).toBeCloseTo(4903.325, 9);
  expect(toForce(nominal, 1000, 1000)).toBe(0);
  expect(toForce(nominal, 1000, 1000 + 2_097_152)).toBeCloseTo(2451.6625, 9);
});

test('a pad wired the other way round still reads upwards', () => {
  const nominal = nominalCalibration({ ...RATING, countsAtRatedLoad: -4_194_304 });
  expect(toForce(nominal, 500, 500 - 4_194_304)).toBeCloseTo(4903.325, 9);
});

test('a rating without a span is refused, and so are counts that are not finite', () => {
  expect(() => nominalCalibration({ ...RATING, countsAtRatedLoad: 0 })).toThrow(RangeError);
  expect(() => nominalCalibration({ ...RATING, ratedLoad: 0 })).toThrow(RangeError);
  expect(() => toForce(nominalCalibration(RATING), 0, NaN)).toThrow(RangeError);
});

const calibrations = fc
  .tuple(
    fc.double({ min: 1e-4, max: 1e-2, noNaN: true }),
    fc.double({ min: -1e-10, max: 1e-10, noNaN: true }),
    fc.double({ min: -1e-17, max: 1e-17, noNaN: true }),
    fc.integer({ min: 1, max: 3 }),
  )
  .map(([first, quadratic, cubic, degree]): Calibration => ({
    id: 'one',
    calibrated: true,
    coefficients: [first, quadratic, cubic].slice(0, degree),
    uRelative: 1e-4,
  }));
const counts = fc.integer({ min: -8_000_000, max: 8_000_000 });

test('a polynomial of the counts over zero, term by term', () => {
  fc.assert(
    fc.property(calibrations, counts, counts, (calibration, zero, raw) => {
      const over = raw - zero;
      const termByTerm = calibration.coefficients.reduce(
        (sum, coefficient, k) => sum + coefficient * over ** (k + 1),
        0,
      );
      const found = toForce(calibration, zero, raw);
      expect(Math.abs(found - termByTerm)).toBeLessThanOrEqual(1e-9 * (1 + Math.abs(over)));
      expect(toForce(calibration, zero, zero)).toBeCloseTo(0, 12);
    }),
    { seed: 1, numRuns: 300 },
  );
});

test('its slope is the difference quotient', () => {
  fc.assert(
    fc.property(calibrations, counts, (calibration, raw) => {
      const numeric =
        (toForce(calibration, 17, raw + 500) - toForce(calibration, 17, raw - 500)) / 1000;
      const slope = forcePerCount(calibration, 17, raw);
      expect(Math.abs(slope - numeric)).toBeLessThan(1e-6 * (1e-4 + Math.abs(slope)) + 1e-11);
    }),
    { seed: 2, numRuns: 300 },
  );
});

test('a sample becomes a reading, clean and smooth alike', () => {
  const nominal = nominalCalibration(RATING);
  const sample = { index: 3, t: second(1.5), raw: 9000, clean: 8000, smooth: 7000.5, flags: 16 };
  expect(toReading(sample, nominal, 100)).toEqual({
    t: 1.5,
    clean: toForce(nominal, 100, 8000),
    smooth: toForce(nominal, 100, 7000.5),
    flags: 16,
  });
});
