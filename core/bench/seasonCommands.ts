import type { Capture } from '../contract/records.ts';
import { capturesNamed, recordsKept, sheetsKept, sourcesOf } from '../sheet/keptRecords.ts';
import { seasonOf, type SeasonRecord } from '../sheet/seasonOf.ts';
import type { Handlers } from './answering.ts';
import type { BenchWorkings } from './workings.ts';

/** What the records of the season were made of; anything else, and they are made again. */
interface Made {
  readonly of: readonly unknown[];
  readonly records: readonly SeasonRecord[];
}

/**
 * The season is read here and not on the screen: ten thousand readings are many as messages and few as
 * points of one item. Captures are read once; of a capture only what never changes is used.
 */
export const seasonHandlers = (): Handlers<'open season'> => {
  const captures = new Map<string, Capture>();
  let made: Made = { of: [], records: [] };

  const recordsOf = (bench: BenchWorkings): readonly SeasonRecord[] => {
    const { memory, book } = bench;
    const { cars, car: current, venues, settings, outing } = memory;
    const of = [book.kept, cars, current, venues, settings.cross, outing.practice];
    if (of.every((each, index) => each === made.of[index])) return made.records;
    const records = recordsKept(book.all('car record'), book.all('record entry'));
    const lacking = records.flatMap(capturesNamed).filter((id) => !captures.has(id));
    for (const capture of bench.capturesById(lacking)) captures.set(capture.id, capture);
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
  };

  return {
    'open season': (bench, { item, filter }) => ({
      ok: true,
      result: { is: 'season', points: [...seasonOf(recordsOf(bench), item, filter)] },
    }),
  };
};
