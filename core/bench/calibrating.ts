import { calibrate } from '../calibration/calibrate.ts';
import type { CalibrationRecord, TakenPoint } from '../contract/calibrationRecord.ts';
import type { KeptOf } from '../contract/kept.ts';
import type { KeptBook } from './keptBook.ts';

/** A calibration that was begun: what it is made with, and the points so far. */
export interface Draft {
  readonly begun: KeptOf<'calibration begun'>;
  readonly points: readonly TakenPoint[];
  /** Newest force on every other pad when the last point was taken, N, by serial number. */
  readonly elsewhere: ReadonlyMap<string, number>;
}

/** The calibration at work, and those that were stopped. Everything is in the records: a stop loses nothing. */
export interface Calibrating {
  readonly now: Draft | null;
  /** Begun and neither finished nor given up, newest first; the one at work among them. */
  unfinished(): readonly Draft[];
  /** What the points make so far; null while none is at work. */
  soFar(): CalibrationRecord | null;
  workAt(id: string | null): void;
  /** The record of the one at work as it would be finished now. */
  record(head: Pick<CalibrationRecord, 'id' | 'replaces' | 'madeAt'>): CalibrationRecord | null;
}

/** The last telling of each point counts, in the order of their numbers. */
const pointsOf = (told: readonly KeptOf<'calibration point'>[]): readonly TakenPoint[] => {
  const byNumber = new Map(told.map(({ point }) => [point.number, point]));
  return [...byNumber.values()].toSorted((a, b) => a.number - b.number);
};

export const createCalibrating = (book: KeptBook): Calibrating => {
  let atWork: string | null = null;
  let made: {
    readonly of: string;
    readonly told: number;
    readonly record: CalibrationRecord;
  } | null = null;

  const draftOf = (begun: KeptOf<'calibration begun'>): Draft => {
    const told = book.of('calibration point', begun.id);
    return {
      begun,
      points: pointsOf(told),
      elsewhere: new Map(told.at(-1)?.elsewhere.map(({ padSerial, force }) => [padSerial, force])),
    };
  };
  const open = (): readonly KeptOf<'calibration begun'>[] => {
    const ended = new Set(book.all('calibration ended').map(({ subject }) => subject));
    return book.all('calibration begun').filter(({ id }) => !ended.has(id));
  };
  const now = (): Draft | null => {
    const begun = open().find(({ id }) => id === atWork);
    return begun ? draftOf(begun) : null;
  };
  const recordOf = (
    { begun, points }: Draft,
    head: Pick<CalibrationRecord, 'id' | 'replaces' | 'madeAt'>,
  ): CalibrationRecord => {
    const { subject, masses, reference, against, place, rating, practice } = begun;
    return calibrate({
      ...head,
      padSerial: subject,
      practice,
      place,
      rating,
      masses,
      reference,
      points,
      against,
    });
  };

  return {
    get now() {
      return now();
    },
    unfinished: () => open().map(draftOf).toReversed(),
    soFar: () => {
      const draft = now();
      if (!draft) return null;
      const { id, at } = draft.begun;
      // Computed once for each telling of a point: the state is sent more often than that.
      const told = book.of('calibration point', id).length;
      if (made?.of !== id || made.told !== told)
        made = { of: id, told, record: recordOf(draft, { id, replaces: null, madeAt: at }) };
      return made.record;
    },
    workAt: (id) => {
      atWork = id;
    },
    record: (head) => {
      const draft = now();
      return draft && recordOf(draft, head);
    },
  };
};
