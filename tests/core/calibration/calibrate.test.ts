import { describe, expect, test } from 'vitest';
import { calibrate } from '../../../core/calibration/calibrate.ts';
import { toForce } from '../../../core/calibration/calibration.ts';
import { inverseUse } from '../../../core/calibration/inverseUse.ts';
import { slopeAt, type Curve } from '../../../core/calibration/polynomialFit.ts';
import { fitCurve } from '../../../core/calibration/fitCurve.ts';
import { calibrationOf, isForUse } from '../../../core/calibration/useRecord.ts';
import {
  calibrationRecordSchema,
  type CalibrationRecord,
} from '../../../core/contract/calibrationRecord.ts';
import { studentT } from '../../../core/signal/studentT.ts';
import { placePoints } from '../../../core/calibration/placePoints.ts';
import { createRandom } from '../../../drivers/pads/rig/random.ts';
import {
  countsOver,
  GRAVITY,
  input,
  SLOPE,
  SOUND,
  take,
  twenties,
  UP_AND_DOWN,
  type Pad,
} from './simulatedPad.ts';

/** Counts over zero turned round to a force, for one new reading. */
const forceOf = (curve: Curve, over: number) =>
  inverseUse(curve, over, { start: over / slopeAt(curve, 0), readings: 1 });

const TWICE = [...UP_AND_DOWN, ...UP_AND_DOWN];

const made = (pad: Partial<Pad> = {}, plan: readonly number[] = TWICE): CalibrationRecord =>
  calibrate(input(take({ ...SOUND, ...pad }, plan)));

/** The record's seam; a test that gets none fails. */
const seam = (record: CalibrationRecord) => {
  const calibration = calibrationOf(record);
  if (!calibration?.curve) throw new Error('not for use');
  return { ...calibration, curve: calibration.curve };
};

describe('a sound pad, up and down twice with M1 masses', () => {
  const record = made();

  test('is for use and within class III at e = 0.1 kg', () => {
    expect(record.findings).toEqual([]);
    expect(isForUse(record)).toBe(true);
    expect(record.fit?.degree).toBe(1);
    expect(record.verdict?.outcome).toBe('within');
    expect(record.verdict?.tests.map(({ test: name, outcome }) => `${name}: ${outcome}`)).toEqual([
      'errors: within',
      'repeatability: within',
      'zero return: within',
      'creep: not seen',
      'masses: within',
      'intervals: within',
    ]);
  });

  test('reads the masses: the span it was simulated with, over any zero', () => {
    const calibration = seam(record);
    const mass = toForce(calibration, 500, 500 + countsOver(SOUND, 200)) / GRAVITY;
    expect(Math.abs(mass - 200)).toBeLessThan(0.02);
    expect(calibration).toMatchObject({ id: 'c1', calibrated: true });
    // Masses of M1: (1/√3)·√(1 + 1/16 + 1/9) parts in 20 000 of each, by the parts of cg-18.
    expect(record.uApplied).toBeCloseTo((5e-5 / Math.sqrt(3)) * Math.sqrt(1 + 1 / 16 + 1 / 9), 9);
  });

  test('goes through JSON and its schema unchanged', () => {
    expect(calibrationRecordSchema.parse(JSON.parse(JSON.stringify(record)))).toEqual(record);
  });

  test('every point has its place: cycles, sides, errors', () => {
    expect(record.results).toHaveLength(22);
    expect(record.results.map(({ cycle }) => cycle)).toEqual(
      Array.from({ length: 22 }, (_, index) => (index < 11 ? 1 : 2)),
    );
    expect(record.results.filter(({ side }) => side === 'down')).toHaveLength(10);
    for (const { error } of record.results) expect(Math.abs(error ?? NaN)).toBeLessThan(0.05);
  });
});

test('the 95 % interval of a reading covers the truth 95 times in 100', () => {
  const placing = createRandom(99);
  const runs = 1000;
  let covered = 0;
  for (let seed = 1; seed <= runs; seed += 1) {
    const pad = { ...SOUND, seed, scatter: 0.05, bend: 0.4 };
    const points = placePoints(take(pad, TWICE), {
      padSerial: 'P-1',
      masses: twenties(15),
      gravity: GRAVITY,
    });
    const outcome = fitCurve(
      points.map((point) => ({ ...point, counts: point.taken.counts.value, uCounts: 5 })),
    );
    if (!outcome.ok) throw new Error(outcome.why);
    // A new placing of 170 kg, by the same chance as those of the calibration.
    const over = countsOver(pad, 170) + pad.scatter * SLOPE * GRAVITY * placing.normal();
    const force = forceOf(outcome.fitted.curve, over);
    if (!force) throw new Error('beyond the curve');
    if (Math.abs(force.value - 170 * GRAVITY) <= studentT(0.05, force.dof) * force.u) covered += 1;
  }
  // Binomial: three standard deviations of 1000 at 95 % are 2.1 %.
  expect(covered / runs).toBeGreaterThan(0.929);
  expect(covered / runs).toBeLessThan(0.971);
});

describe('what the pad shows of itself', () => {
  const pad = { ...SOUND, scatter: 0.005, bend: 0.5, hysteresis: 0.12 };
  const record = made(pad);
  const shown = record.characteristics;

  test('nonlinearity against the line from none to the top, rising', () => {
    // By hand: bend·4·s(1−s) at s = 0.24 and 0.36 of 500 kg, less the line to 0.6; the largest is at 0.36.
    const loop = (share: number): number => 0.5 * 4 * share * (1 - share);
    const byHand = [0.12, 0.24, 0.36, 0.48].map((share) => loop(share) - (loop(0.6) * share) / 0.6);
    const largest = Math.max(...byHand);
    expect(shown?.nonlinearity?.value).toBeCloseTo(largest, 1);
    expect(Math.abs((shown?.nonlinearity?.value ?? NaN) - largest)).toBeLessThan(0.02);
  });

  test('hysteresis falling less rising, largest at half load', () => {
    // 0.12·4·0.48·0.52 = 0.1198 kg at 240 kg.
    expect(shown?.hysteresis?.value).toBeGreaterThan(0.1);
    expect(shown?.hysteresis?.value).toBeLessThan(0.14);
    expect([180, 240]).toContain(Math.round(shown?.hysteresis?.load ?? 0));
  });

  test('repeatability is the scatter of placings', () => {
    expect(shown?.repeatability?.sd).toBeGreaterThan(0.002);
    expect(shown?.repeatability?.sd).toBeLessThan(0.011);
    expect(shown?.repeatability?.dof).toBe(9);
  });

  test('the curve takes the bend out, turned round to a gram', () => {
    expect(record.fit?.degree).toBeGreaterThanOrEqual(2);
    expect(record.fit?.inverseError ?? NaN).toBeLessThan(0.001 * GRAVITY);
    expect(record.verdict?.outcome).toBe('within');
    const { curve } = seam(record);
    const over = countsOver(pad, 150);
    const exact = forceOf(curve, over);
    expect(toForce(seam(record), 0, over)).toBeCloseTo(exact?.value ?? NaN, 2);
  });

  test('creep under the top load and the return of the zero', () => {
    const points = take(SOUND, [0, 5, 10, 15, 15, 15, 15, 10, 5, 0]);
    const grown = [0, 0.012, 0.03, 0.034];
    const times = [0, 300, 900, 1800];
    for (const [index, kilograms] of grown.entries()) {
      const point = points[3 + index];
      if (!point) throw new Error('no point');
      points[3 + index] = {
        ...point,
        at: 180 + (times[index] ?? 0),
        placedAnew: index === 0,
        counts: {
          ...point.counts,
          value: SOUND.zero + countsOver(SOUND, 300) + kilograms * SLOPE * GRAVITY,
        },
      };
    }
    const last = points.at(-1);
    if (!last) throw new Error('no point');
    points[points.length - 1] = {
      ...last,
      counts: { ...last.counts, value: SOUND.zero + 0.2 * SLOPE * GRAVITY },
    };
    const found = calibrate(input(points));
    expect(found.characteristics?.creep?.change).toBeCloseTo(0.034, 3);
    expect(found.characteristics?.creep?.late).toBeCloseTo(0.004, 3);
    expect(found.characteristics?.creep?.seconds).toBe(1800);
    expect(found.results.filter(({ leftOut }) => leftOut === 'read again')).toHaveLength(3);
    expect(found.characteristics?.zeroReturn?.value).toBeGreaterThan(0.16);
    // Half an interval of 0.1 kg: R 76-1:2006, 3.9.4.2.
    expect(found.verdict?.tests.find(({ test: name }) => name === 'zero return')).toMatchObject({
      outcome: 'outside',
      limit: 0.05,
    });
  });
});

test('a zero that moves between cycles bends nothing', () => {
  const points = take(SOUND, TWICE).map((point, index) =>
    index < 11
      ? point
      : { ...point, counts: { ...point.counts, value: point.counts.value + 5_000 } },
  );
  const record = calibrate(input(points));
  expect(record.fit?.zeros).toHaveLength(2);
  expect((record.fit?.zeros[1] ?? NaN) - (record.fit?.zeros[0] ?? NaN)).toBeCloseTo(5_000, -3);
  const span = 1 / (record.coefficients?.[0] ?? NaN) / SLOPE;
  expect(Math.abs(span / 1.0004 - 1)).toBeLessThan(1e-4);
  expect(isForUse(record)).toBe(true);
});

test('a noisy average counts for less, a quiet one for no more than placing allows', () => {
  const points = take(SOUND, TWICE).map((point, index) =>
    index === 4
      ? { ...point, counts: { ...point.counts, value: point.counts.value + 3_000, u: 4_000 } }
      : point,
  );
  const noisy = calibrate(input(points));
  const claimed = calibrate(
    input(points.map((point) => ({ ...point, counts: { ...point.counts, u: 5 } }))),
  );
  const spanOf = (record: CalibrationRecord): number =>
    1 / (record.coefficients?.[0] ?? NaN) / SLOPE;
  expect(Math.abs(spanOf(noisy) / 1.0004 - 1)).toBeLessThan(
    Math.abs(spanOf(claimed) / 1.0004 - 1) / 3,
  );
});

test('Pontius through the same fit: certified coefficients, and 1.239722 is 1 705 106', () => {
  // NIST StRD Pontius.dat, certified; e-Handbook 4.6.1.10 for the inverse. One cycle, no sides.
  const runs = [
    [
      0.11019, 0.21956, 0.32949, 0.43899, 0.54803, 0.65694, 0.76562, 0.87487, 0.98292, 1.09146,
      1.20001, 1.30822, 1.41599, 1.52399, 1.63194, 1.73947, 1.84646, 1.95392, 2.06128, 2.16844,
    ],
    [
      0.11052, 0.22018, 0.32939, 0.43886, 0.54798, 0.65739, 0.76596, 0.87474, 0.983, 1.0915,
      1.20004, 1.30818, 1.41613, 1.52408, 1.63159, 1.73965, 1.84696, 1.95445, 2.06177, 2.16829,
    ],
  ];
  const outcome = fitCurve(
    runs.flatMap((run) =>
      run.map((counts, index) => ({
        force: 150_000 * (index + 1),
        uForce: 0,
        counts,
        uCounts: 0,
        zero: 1,
        side: 'up' as const,
        load: index,
      })),
    ),
  );
  if (!outcome.ok) throw new Error(outcome.why);
  const { curve, degree, evidence, whole } = outcome.fitted;
  expect(degree).toBe(2);
  expect(evidence.p).toBeGreaterThan(0.5);
  expect((curve.coefficients[0] ?? NaN) / 0.732059160401003e-6).toBeCloseTo(1, 9);
  expect((curve.coefficients[1] ?? NaN) / -0.316081871345029e-14).toBeCloseTo(1, 9);
  expect(Math.sqrt(curve.covariance[0]?.[0] ?? NaN) / 0.157817399981659e-9).toBeCloseTo(1, 8);
  expect(Math.sqrt(curve.covariance[1]?.[1] ?? NaN) / 0.486652849992036e-16).toBeCloseTo(1, 8);
  const force = forceOf(curve, 1.239722 - (whole.coefficients[0] ?? NaN));
  expect(force?.value.toFixed(0)).toBe('1705106');
});
