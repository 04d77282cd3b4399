import {
  calibrationRecordSchema,
  type CalibrationRecord,
} from '../../core/contract/calibrationRecord.ts';
import { insert, type Adding } from './adding.ts';
import { fromJson, type Reading } from './reading.ts';

interface Row {
  readonly id: string;
  readonly calibration: string;
}

/** Calibrations of pads, every version of them. */
export const createCalibrations = ({ db, stamp }: Adding, reading: Reading) => {
  const add = insert(db, 'calibrations', 'id added_at replaces pad_serial made_at calibration');
  const ofPad = db.prepare<Row>(
    'SELECT id, calibration FROM calibrations WHERE pad_serial = @pad ORDER BY seq DESC',
  );
  return {
    /** Throws on a record that could not be read back, and for a pad that was never stored. */
    add: (record: CalibrationRecord): void => {
      const calibration = JSON.stringify(record);
      calibrationRecordSchema.parse(fromJson(calibration));
      add({
        ...stamp(),
        id: record.id,
        replaces: record.replaces,
        pad_serial: record.padSerial,
        made_at: record.madeAt,
        calibration,
      });
    },
    /** Newest first. */
    ofPad: (padSerial: string): readonly CalibrationRecord[] =>
      ofPad
        .all({ pad: padSerial })
        .map(({ id, calibration }) =>
          reading.parse(calibrationRecordSchema, `calibration ${id}`, () => fromJson(calibration)),
        )
        .filter((record) => record !== null),
  };
};
