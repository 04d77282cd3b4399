import { calibrate } from '../../../core/calibration/calibrate.ts';
import { withReason } from '../../../core/calibration/useRecord.ts';
import type { CalibrationRecord, TakenPoint } from '../../../core/contract/calibrationRecord.ts';
import { input, SOUND, take, twenties, UP_AND_DOWN } from '../calibration/simulatedPad.ts';

/** Records of simulated pads, each with something of its own to print. */

const TWICE = [...UP_AND_DOWN, ...UP_AND_DOWN];

/** A sound pad, up and down twice: a straight line within class III. */
export const soundRecord = (): CalibrationRecord => calibrate(input(take(SOUND, TWICE)));

/** A pad that bends, on the practice rig, with a point undone, one of another pad and one read again. */
export const bentRecord = (): CalibrationRecord => {
  const points = take(
    { ...SOUND, bend: 1.5, hysteresis: 0.05, seed: 3 },
    [0, 3, 6, 9, 12, 15, 15, 15, 12, 9, 6, 3, 0, 3, 6, 9, 12, 15, 12, 9, 6, 3, 0],
  ).map((point, index): TakenPoint => {
    if (index === 6 || index === 7) return { ...point, placedAnew: false };
    if (index === 9) return { ...point, padSerial: 'P-2' };
    return index === 14 ? { ...point, undone: true } : point;
  });
  return calibrate({ ...input(points), practice: true, replaces: 'c0' });
};

/** Two loads only and masses of which nothing is known: refused, and used for a written reason. */
export const reasonedRecord = (): CalibrationRecord => {
  const set = twenties(10, { is: 'number only' });
  const record = withReason(
    calibrate(input(take({ ...SOUND, scatter: 0.4, seed: 5 }, [0, 5, 10, 5, 0]), set)),
    'Last day of the test, the masses are at the other circuit; checked with 60 kg.',
  );
  if (!record) throw new Error('no curve');
  return record;
};
