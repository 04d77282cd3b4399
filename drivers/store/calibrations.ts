import {
  calibrationRecordSchema,
  type CalibrationRecord,
} from '../../core/contract/calibrationRecord.ts';
import { insert, type Adding } from './adding.ts';
import { checksumOf, verified } from './checksum.ts';
import { fromJson, type Reading } from './reading.ts';

interface Row {
  readonly id: string;
  readonly calibration: string;
  readonly crc32: number | null;
}

/** Calibrations of pads, every version of them. */
export const createCalibrations = ({ db, stamp }: Adding, reading: Reading) => {
  const add = insert(
    db,
    'calibrations',
    'id added_at replaces pad_serial made_at calibration crc32',
  );
  const ofPad = db.prepare<Row>(
    'SELECT id, calibration, crc32 FROM calibrations WHERE pad_serial = @pad ORDER BY seq DESC',
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
        crc32: checksumOf(calibration),
      });
    },
    /** Newest first. */
    ofPad: (padSerial: string): readonly CalibrationRecord[] =>
      ofPad
        .all({ pad: padSerial })
        .map(({ id, calibration, crc32 }) =>
          reading.parse(calibrationRecordSchema, `calibration ${id}`, () =>
            fromJson(verified(calibration, crc32)),
          ),
        )
        .filter((record) => record !== null),
  };
};
