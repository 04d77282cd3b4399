import type { CalibrationRecord } from '../contract/calibrationRecord.ts';
import type { Kept, KeptKind } from '../contract/kept.ts';
import type { Capture, RawWindow } from '../contract/records.ts';
import type { Settings } from '../contract/settings.ts';
import type { Corner, PerCorner } from '../corners.ts';
import type { Fault } from '../faults.ts';
import type { StreamGap } from '../reading.ts';
import type { Car } from '../sheet/car.ts';
import type { CarState } from '../sheet/carState.ts';
import type { Venue } from '../sheet/venue.ts';
import type { Second } from '../units.ts';
import type { Outcome, PadSource } from './ports.ts';

/**
 * What the bench needs remembered. Records are only added: a correction is a new record that names
 * the one it replaces, and nothing is deleted. A write that answers ok is on the disk.
 */

/** One zero of one pad: the mean counts with nothing on it. */
export interface ZeroRecord {
  readonly id: string;
  readonly padSerial: string;
  /** Wall-clock label, ms. */
  readonly takenAt: number;
  readonly counts: number;
  /** Standard uncertainty of the mean, counts. */
  readonly u: number;
  readonly dof: number;
  readonly temperature: number | null;
}

/** An outing: the captures between a car coming in and going out again (a session in the store). */
export interface Outing {
  readonly id: string;
  readonly name: string;
  /** Wall-clock label, ms. */
  readonly begunAt: number;
  readonly practice: boolean;
}

/** Where the bench goes on after a start or a restart. */
export interface Remembered {
  readonly settings: Settings | null;
  readonly cars: readonly Car[];
  readonly venues: readonly Venue[];
  readonly carId: string | null;
  readonly venueId: string | null;
  readonly carState: CarState | null;
  readonly agreedCarState: CarState | null;
  readonly source: PadSource | null;
  /** The newest outing of real pads and of the practice rig: they are kept apart. */
  readonly outing: Outing | null;
  readonly practiceOuting: Outing | null;
  /** Corner by serial number of the pads that have one. */
  readonly assigned: ReadonlyMap<string, Corner>;
  /** Newest zero of each pad, by serial number. */
  readonly zeros: ReadonlyMap<string, ZeroRecord>;
}

/** Raw samples of one pad, about a second of them: a row of the flight recorder. */
export interface RawChunk {
  readonly padSerial: string;
  /** Wall-clock label of the first sample, ms. */
  readonly wallAt: number;
  /** Host monotonic time of the first sample, s. */
  readonly from: Second;
  /** Seconds after `from`, one per sample. */
  readonly t: Float32Array;
  /** Counts as sent, one per sample. */
  readonly counts: Int32Array;
  /** Holes that ended within this chunk. */
  readonly gaps: readonly StreamGap[];
}

export interface StorePort {
  load(): Remembered;
  saveSettings(settings: Settings): Outcome;
  saveSource(source: PadSource): Outcome;
  /** Adds the car (a known id: the new version replaces the old, which is kept) and uses it. */
  saveCar(car: Car): Outcome;
  saveVenue(venue: Venue): Outcome;
  /** The state now, and what the crew agreed it should be. */
  saveCarState(state: CarState, agreed: CarState): Outcome;
  beginOuting(outing: Outing): Outcome;
  /** Gives a pad a corner; whichever pad had it becomes a spare. Null makes it a spare. */
  assign(padSerial: string, corner: Corner | null): Outcome;
  saveZero(zero: ZeroRecord): Outcome;
  /** Every zero of a pad, oldest first. */
  zerosOf(padSerial: string): readonly ZeroRecord[];
  saveCalibration(record: CalibrationRecord): Outcome;
  /** Every calibration of a pad, newest first. */
  calibrationsOf(padSerial: string): readonly CalibrationRecord[];
  keep(record: Kept): Outcome;
  /** All records of a kind, oldest first. */
  kept(kind: KeptKind): readonly Kept[];
  /** Ok only after a commit with full sync: an acknowledged capture survives a power cut whole. */
  saveCapture(capture: Capture, window: RawWindow): Outcome;
  /** Notes the zero shift (kg per corner) found after the car was raised again. */
  noteZeroShift(captureId: string, shift: PerCorner<number | null>): Outcome;
  setAside(captureId: string, aside: boolean): Outcome;
  /** Captures of an outing, newest first, those set aside among them. */
  captures(outingId: string): readonly Capture[];
  /** Those of the ids that are in the database, in their order, without their raw windows. */
  capturesById(ids: readonly string[]): readonly Capture[];
  openCapture(id: string): { readonly capture: Capture; readonly window: RawWindow } | null;
  /** Keeps the last hour: older chunks fall out. */
  record(chunks: readonly RawChunk[]): Outcome;
  /** Faults met while opening and reading, oldest first; it grows. */
  readonly faults: readonly Fault[];
}
