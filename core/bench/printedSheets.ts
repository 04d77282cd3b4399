import type { PrintWhat } from '../contract/print.ts';
import { sheetContent } from '../paper/sheet/sheetContent.ts';
import { sheetPaper } from '../paper/sheet/sheetPaper.ts';
import { utcIso } from '../format/civilTime.ts';
import type { Car } from '../sheet/car.ts';
import { capturesNamed, recordsKept, sheetsKept, sourcesOf } from '../sheet/keptRecords.ts';
import { recordCsv } from '../sheet/recordCsv.ts';
import type { SetUpSheet } from '../sheet/setUpSheet.ts';
import { sheetCsv } from '../sheet/sheetCsv.ts';
import type { Printing } from './printCommands.ts';
import type { BenchWorkings } from './workings.ts';

/** Set-up sheets and car state records as papers and tables, from what is kept. */

const carOf = ({ memory }: BenchWorkings, id: string): Car | null =>
  memory.car.id === id ? memory.car : (memory.cars.find((car) => car.id === id) ?? null);

const nameOf = (car: Car, sheet: SetUpSheet | null): string =>
  sheet ? `${car.name}-${sheet.name}-no-${sheet.number}` : car.name;

/** A version of a set-up sheet: targets, and as built where it was released. */
export const printedSheet = (
  bench: BenchWorkings,
  { lineageId, sheetId }: Extract<PrintWhat, { readonly is: 'sheet' }>,
): Printing | null => {
  const sheet = sheetsKept(bench.book.of('sheet', lineageId)).find(({ id }) => id === sheetId);
  const car = sheet && carOf(bench, sheet.carId);
  if (!sheet || !car) return null;
  return {
    name: `sheet-${nameOf(car, sheet)}`,
    csv: () => sheetCsv(sheet, car),
    paper: () =>
      sheetPaper(
        sheetContent({
          car,
          sheet,
          sources: null,
          settings: bench.memory.settings,
          venueName: null,
          practice: bench.memory.outing.practice,
          created: sheet.released?.at ?? sheet.writtenAt,
        }),
      ),
  };
};

/** A car state record with its sheet. */
export const printedRecord = (bench: BenchWorkings, recordId: string): Printing | null => {
  const [record] = recordsKept(
    bench.book.of('car record', recordId),
    bench.book.of('record entry', recordId),
  );
  const car = record && carOf(bench, record.carId);
  if (!record || !car) return null;
  const { settings, venues, outing } = bench.memory;
  const sheet = sheetsKept(bench.book.all('sheet')).find(({ id }) => id === record.sheetId) ?? null;
  const captures = new Map(
    bench.capturesById(capturesNamed(record)).map((capture) => [capture.id, capture] as const),
  );
  const sources = sourcesOf(record, { car, captures, cross: settings.cross, sheet });
  return {
    name: `${record.phase}-${nameOf(car, sheet)}-${utcIso(record.begunAt)}`,
    csv: () => recordCsv(sources, sheet),
    paper: () =>
      sheetPaper(
        sheetContent({
          car,
          sheet,
          sources,
          settings,
          venueName: venues.find(({ id }) => id === record.venueId)?.name ?? null,
          practice: outing.practice,
          created: record.begunAt,
        }),
      ),
  };
};
