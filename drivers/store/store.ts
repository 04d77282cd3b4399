import type { RawChunk, Remembered, StorePort } from '../../core/bench/storePort.ts';
import type { Fault } from '../../core/faults.ts';
import { carSchema } from '../../core/sheet/car.ts';
import { venueSchema } from '../../core/sheet/venue.ts';
import type { Second } from '../../core/units.ts';
import type { Adding } from './adding.ts';
import { createCalibrations } from './calibrations.ts';
import { createCaptures } from './captures.ts';
import { createCarStates } from './carStates.ts';
import type { Database } from './database.ts';
import { createKept } from './kept.ts';
import { createOutings } from './outings.ts';
import { createPads } from './pads.ts';
import { createReading } from './reading.ts';
import { createRecorder, type ReadRaw } from './recorder.ts';
import { replaceRecords } from './restoreReplace.ts';
import { createSettings } from './settings.ts';
import { createAttempt } from './storeFault.ts';
import { RECORDER_FILE, RECORDS_FILE } from './storeFiles.ts';
import { createVersions } from './versions.ts';

/** The records' file, for what copies and replaces it whole. */
export interface RecordsInPlace {
  /** Goes up with every row that is written. */
  changes(): number;
  /**
   * Puts a prepared file in their place and keeps theirs under the name `aside`; both are paths on the same
   * disk. Nothing can be read or written afterwards. Throws where it could not be done.
   */
  replaceBy(coming: string, aside: string): void;
}

/** The bench's store, and what only the host and later parts use of it. */
export interface Store extends StorePort {
  /** Raw chunks of a pad that the flight recorder still has, oldest first. */
  readRaw(asked: ReadRaw): readonly RawChunk[];
  readonly inPlace: RecordsInPlace;
  /** Lets go of the files and the folder. Writes after it are refused; a second call does nothing. */
  close(): void;
}

export interface StoreParts {
  /** The path of the records' file. */
  readonly path: string;
  readonly records: Database;
  readonly recorder: Database;
  readonly wallClock: () => number;
  readonly newId: () => string;
  readonly now: () => Second;
  /** Grows: what opening met, and records that could not be read since. */
  readonly faults: Fault[];
  readonly close: () => void;
}

/** Joins the repositories: each write is one transaction and says how it went. */
export const createStore = (parts: StoreParts): Store => {
  const { records, faults, now } = parts;
  const adding: Adding = {
    db: records,
    stamp: () => ({ id: parts.newId(), added_at: parts.wallClock() }),
  };
  const reading = createReading(faults, now, RECORDS_FILE.name);
  const recorderReading = createReading(faults, now, RECORDER_FILE.name);
  const settings = createSettings(adding, reading);
  const cars = createVersions('car', carSchema, adding, reading);
  const venues = createVersions('venue', venueSchema, adding, reading);
  const carStates = createCarStates(adding, reading);
  const outings = createOutings(adding);
  const pads = createPads(adding, reading);
  const captures = createCaptures(adding, reading);
  const calibrations = createCalibrations(adding, reading);
  const kept = createKept(adding, reading);
  const recorder = createRecorder(parts.recorder);

  const attempt = createAttempt(now, RECORDS_FILE.name);
  const attemptRecorder = createAttempt(now, RECORDER_FILE.name);
  const changes = records.prepare<{ n: number }>('SELECT total_changes() AS n');
  let changesSeen = 0;
  const write = (work: () => void) => attempt(() => records.immediately(work));

  return {
    faults,
    load: () => {
      const state = reading.attempt({ state: null, agreed: null }, carStates.newest);
      return {
        settings: reading.attempt(null, settings.newestSettings),
        source: reading.attempt(null, settings.newestSource),
        cars: reading.attempt([], cars.all),
        venues: reading.attempt([], venues.all),
        carId: reading.attempt(null, cars.inUse),
        venueId: reading.attempt(null, venues.inUse),
        carState: state.state,
        agreedCarState: state.agreed,
        outing: reading.attempt(null, () => outings.newest(false)),
        practiceOuting: reading.attempt(null, () => outings.newest(true)),
        assigned: reading.attempt<Remembered['assigned']>(new Map(), pads.assigned),
        zeros: reading.attempt<Remembered['zeros']>(new Map(), pads.newestZeros),
      };
    },
    saveSettings: (next) => write(() => settings.addSettings(next)),
    saveSource: (source) => write(() => settings.addSource(source)),
    saveCar: (car) => write(() => cars.addAndUse(car)),
    saveVenue: (venue) => write(() => venues.addAndUse(venue)),
    saveCarState: (state, agreed) => write(() => carStates.add(state, agreed, cars.versionInUse())),
    beginOuting: (outing) => write(() => outings.add(outing, venues.versionInUse())),
    assign: (serial, corner) => write(() => pads.assign(serial, corner)),
    saveZero: (zero) => write(() => pads.addZero(zero)),
    zerosOf: (padSerial) => reading.attempt([], () => pads.zerosOf(padSerial)),
    saveCalibration: (record) =>
      write(() => {
        pads.know(record.padSerial);
        calibrations.add(record);
      }),
    calibrationsOf: (padSerial) => reading.attempt([], () => calibrations.ofPad(padSerial)),
    keep: (record) => write(() => kept.add(record)),
    kept: (kind) => reading.attempt([], () => kept.all(kind)),
    saveCapture: (capture, window) =>
      write(() => {
        for (const { padSerial } of Object.values(capture.corners)) pads.know(padSerial);
        captures.add(capture, window, {
          carVersion: cars.versionOf(capture.carId),
          venueVersion: venues.versionOf(capture.venueId),
          stateId: carStates.idOf(capture.carState),
        });
      }),
    noteZeroShift: (captureId, shift) => write(() => captures.noteZeroShift(captureId, shift)),
    setAside: (captureId, aside) => write(() => captures.setAside(captureId, aside)),
    captures: (outingId) => reading.attempt([], () => captures.ofSession(outingId)),
    capturesById: (ids) => reading.attempt([], () => captures.byIds(ids)),
    openCapture: (id) => reading.attempt(null, () => captures.open(id)),
    record: (chunks) => attemptRecorder(() => recorder.record(chunks)),
    readRaw: (asked) => recorderReading.attempt([], () => recorder.read(asked)),
    inPlace: {
      changes: () => reading.attempt(changesSeen, () => (changesSeen = changes.get()?.n ?? 0)),
      replaceBy: (coming, aside) => replaceRecords(records, { path: parts.path, coming, aside }),
    },
    close: parts.close,
  };
};
