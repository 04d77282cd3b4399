import type { Capture } from '../contract/records.ts';
import { capturesNamed, recordsKept, sheetsKept, sourcesOf } from '../sheet/keptRecords.ts';
import type { SeasonRecord } from '../sheet/seasonOf.ts';
import type { KeptBook } from './keptBook.ts';
import type { Memory } from './memory.ts';

/** The records of this world as a season has them. */
export interface SeasonRecords {
  all(): readonly SeasonRecord[];
  /** Reads one part of the database that `all` will need, while any is left. */
  readonly readAhead: () => void;
  /** Whether that is done for this world: then `all` reads little. */
  readonly isReadAhead: () => boolean;
}

/** Captures that are read at once: some ms, which the pads' samples do not notice. */
const READ_AT_ONCE = 32;

/**
 * Held by the bench, since ten thousand readings are many as messages and few as points of one item.
 * Captures are read once; of a capture only what never changes is used.
 */
export const createSeasonRecords = (about: {
  readonly book: KeptBook;
  readonly memory: Memory;
  readonly capturesById: (ids: readonly string[]) => readonly Capture[];
}): SeasonRecords => {
  const { book, memory } = about;
  const captures = new Map<string, Capture>();
  /** Ids that no capture in the database has. */
  const absent = new Set<string>();
  /** What the records were made of: anything else, and they are made again. */
  let made: { readonly of: readonly unknown[]; readonly records: readonly SeasonRecord[] } = {
    of: [],
    records: [],
  };
  const lacking = (ids: readonly string[]): readonly string[] =>
    ids.filter((id) => !captures.has(id) && !absent.has(id));
  const read = (ids: readonly string[]): void => {
    if (ids.length === 0) return;
    for (const capture of about.capturesById(ids)) captures.set(capture.id, capture);
    for (const id of ids) if (!captures.has(id)) absent.add(id);
  };
  const recordsNow = () => recordsKept(book.all('car record'), book.all('record entry'));

  const ahead = [() => book.all('car record'), () => book.all('sheet'), recordsNow];
  /** Captures still to be read ahead, of which world; null before the records were. */
  let left: { readonly practice: boolean; readonly ids: readonly string[] } | null = null;
  return {
    readAhead: () => {
      const first = ahead.shift();
      if (first) {
        first();
        return;
      }
      const { practice } = memory.outing;
      const ids =
        left?.practice === practice ? left.ids : lacking(recordsNow().flatMap(capturesNamed));
      read(lacking(ids.slice(0, READ_AT_ONCE)));
      left = { practice, ids: ids.slice(READ_AT_ONCE) };
    },
    isReadAhead: () => left?.practice === memory.outing.practice && left.ids.length === 0,
    all: () => {
      const { cars, car: current, venues, settings, outing } = memory;
      const of = [book.kept, cars, current, venues, settings.cross, outing.practice];
      if (of.every((each, index) => each === made.of[index])) return made.records;
      const records = recordsNow();
      // What came with a file since may be what was absent.
      absent.clear();
      read(lacking(records.flatMap(capturesNamed)));
      const sheets = new Map(sheetsKept(book.all('sheet')).map((sheet) => [sheet.id, sheet]));
      const carOf = new Map([...cars, current].map((car) => [car.id, car]));
      const nameOf = new Map(venues.map(({ id, name }) => [id, name]));
      const found = records.flatMap((record): SeasonRecord[] => {
        const car = carOf.get(record.carId);
        if (!car) return [];
        const sheet = sheets.get(record.sheetId ?? '') ?? null;
        return [
          {
            sources: sourcesOf(record, { car, captures, cross: settings.cross, sheet }),
            sheet,
            venueName: nameOf.get(record.venueId ?? '') ?? '',
          },
        ];
      });
      made = { of, records: found };
      return found;
    },
  };
};
