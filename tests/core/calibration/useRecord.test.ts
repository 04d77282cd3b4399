import { describe, expect, test } from 'vitest';
import { calibrate } from '../../../core/calibration/calibrate.ts';
import { forcePerCount, toForce } from '../../../core/calibration/calibration.ts';
import { predictionAt } from '../../../core/calibration/curveUse.ts';
import {
  calibrationOf,
  curveOf,
  curvePart,
  ratingRecord,
  refusalsOf,
  withReason,
} from '../../../core/calibration/useRecord.ts';
import {
  calibrationRecordSchema,
  type CalibrationRecord,
} from '../../../core/contract/calibrationRecord.ts';
import {
  GRAVITY,
  input,
  RATING,
  SOUND,
  take,
  twenties,
  UP_AND_DOWN,
  type Pad,
} from './simulatedPad.ts';

const TWICE = [...UP_AND_DOWN, ...UP_AND_DOWN];

const made = (pad: Partial<Pad> = {}, plan: readonly number[] = TWICE): CalibrationRecord =>
  calibrate(input(take({ ...SOUND, ...pad }, plan)));

/** The record's seam; a test that gets none fails. */
const seam = (record: CalibrationRecord) => {
  const calibration = calibrationOf(record);
  if (!calibration?.curve) throw new Error('not for use');
  return { ...calibration, curve: calibration.curve };
};

describe('what is in use', () => {
  test('uncertainty at any load: less in the middle than at the top, more for one reading', () => {
    const record = made({ scatter: 0.05 });
    const curve = curveOf(record);
    if (!curve) throw new Error('no curve');
    const at = (mass: number) => predictionAt(curve, mass * GRAVITY);
    expect(at(300).curve).toBeGreaterThan(at(100).curve);
    expect(at(100).reading).toBeGreaterThan(at(100).curve);
    expect(predictionAt(curve, 100 * GRAVITY, 4).reading).toBeLessThan(at(100).reading);
    // A line over its zero is uncertain in proportion to the load.
    expect(at(300).curve / at(100).curve).toBeCloseTo(3, 9);
    expect(curvePart(seam(record), 100 * GRAVITY)).toEqual({ u: at(100).curve, dof: curve.dof });
    // The scatter of a placing is what is left of a reading: 0.05 kg simulated.
    expect(at(100).reading / GRAVITY).toBeGreaterThan(0.03);
    expect(at(100).reading / GRAVITY).toBeLessThan(0.08);
  });

  test('the seam’s slope and value belong together', () => {
    const calibration = seam(made({ bend: 0.5 }));
    const numeric = (toForce(calibration, 0, 1_000_500) - toForce(calibration, 0, 999_500)) / 1000;
    expect(forcePerCount(calibration, 0, 1_000_000)).toBeCloseTo(numeric, 9);
  });

  test('the rating as a record is not a calibration', () => {
    const { id, replaces, padSerial, madeAt, practice, place } = input([]);
    const record = ratingRecord(
      { ...RATING, resolution: 1 },
      { id, replaces, padSerial, madeAt, practice, place },
    );
    expect(calibrationRecordSchema.parse(JSON.parse(JSON.stringify(record)))).toEqual(record);
    expect(calibrationOf(record)).toMatchObject({ calibrated: false, uRelative: null });
  });

  test('a refused calibration is used only with a written reason, and stays marked', () => {
    const record = made({}, [0, 5, 10, 0]);
    expect(refusalsOf(record).map(({ code }) => code)).toEqual(['few loads']);
    expect(calibrationOf(record)).toBeNull();
    expect(withReason(record, '   ')).toBeNull();
    const spoken = withReason(record, 'Only ten masses on site; shake-down only.');
    expect(spoken && calibrationOf(spoken)).toMatchObject({
      calibrated: true,
      inSpiteOf: 'Only ten masses on site; shake-down only.',
    });
    expect(spoken?.findings).toEqual(record.findings);
  });

  test('masses known only by the number on them: it works, and no uncertainty is claimed', () => {
    const record = calibrate(input(take(SOUND, TWICE), twenties(15, { is: 'number only' })));
    expect(record.uApplied).toBeNull();
    expect(record.findings.map(({ code }) => code)).toEqual(['masses unknown']);
    expect(record.verdict?.outcome).toBe('cannot tell');
    expect(calibrationOf(record)?.uRelative).toBeNull();
  });
});
