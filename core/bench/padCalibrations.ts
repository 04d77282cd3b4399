import type { Calibration } from '../calibration/calibration.ts';
import { calibrationOf } from '../calibration/useRecord.ts';
import type { CalibrationRecord } from '../contract/calibrationRecord.ts';
import type { KeptBook } from './keptBook.ts';
import type { Outcome } from './ports.ts';
import type { StorePort } from './storePort.ts';

/** A calibration that a pad is used with. */
export interface InUse {
  readonly record: CalibrationRecord;
  readonly calibration: Calibration;
}

/** The calibrations of every pad: all versions, and which one is used. */
export interface PadCalibrations {
  /** Newest first. */
  of(padSerial: string): readonly CalibrationRecord[];
  find(padSerial: string, id: string): CalibrationRecord | null;
  /** Null where the pad is used with its maker's rating. */
  inUse(padSerial: string): InUse | null;
  add(record: CalibrationRecord): Outcome;
  use(padSerial: string, calibrationId: string | null): Outcome;
}

export const createPadCalibrations = (store: StorePort, book: KeptBook): PadCalibrations => {
  const read = new Map<string, CalibrationRecord[]>();
  const ofPad = (padSerial: string): CalibrationRecord[] => {
    const known = read.get(padSerial) ?? [...store.calibrationsOf(padSerial)];
    read.set(padSerial, known);
    return known;
  };
  const find = (padSerial: string, id: string): CalibrationRecord | null =>
    ofPad(padSerial).find((record) => record.id === id) ?? null;
  const inUse = (padSerial: string): InUse | null => {
    const choice = book.of('calibration choice', padSerial).at(-1)?.calibrationId ?? null;
    const record = choice === null ? null : find(padSerial, choice);
    const calibration = record && calibrationOf(record);
    return record && calibration ? { record, calibration } : null;
  };
  return {
    of: ofPad,
    find,
    inUse,
    add: (record) => {
      const known = ofPad(record.padSerial);
      const outcome = store.saveCalibration(record);
      if (outcome.ok) known.unshift(record);
      return outcome;
    },
    use: (padSerial, calibrationId) =>
      book.keep({ kind: 'calibration choice', subject: padSerial, calibrationId }),
  };
};
