import { useMemo } from 'react';
import type { BenchState } from '../../core/contract/events.ts';
import type { Capture } from '../../core/contract/records.ts';
import type { CarRecord } from '../../core/sheet/carRecord.ts';
import type { ValueSources } from '../../core/sheet/itemValue.ts';
import { capturesNamed, recordsKept, sheetsKept, sourcesOf } from '../../core/sheet/keptRecords.ts';
import type { SetUpSheet } from '../../core/sheet/setUpSheet.ts';
import { useCaptures } from './useCaptures.ts';
import { useKept } from './useKept.ts';

/** The car state records and sheets of this world, with the captures that they name. */
export interface RecordsHere {
  /** Oldest first, those set aside among them. */
  readonly records: readonly CarRecord[];
  readonly sheets: readonly SetUpSheet[];
  readonly captures: ReadonlyMap<string, Capture>;
  /** What the values of a record are made from; null for a record of a car that is not known. */
  readonly sourcesOf: (record: CarRecord) => ValueSources | null;
}

/** Null until they were read. */
export const useRecords = (state: BenchState): RecordsHere | null => {
  const heads = useKept('car record');
  const entries = useKept('record entry');
  const kept = useKept('sheet');
  const records = useMemo(
    () => (heads && entries ? recordsKept(heads, entries) : null),
    [heads, entries],
  );
  const sheets = useMemo(() => (kept ? sheetsKept(kept) : null), [kept]);
  const captures = useCaptures(useMemo(() => records?.flatMap(capturesNamed) ?? [], [records]));
  const { cars, car: current, settings } = state;
  return useMemo(
    () =>
      records &&
      sheets && {
        records,
        sheets,
        captures,
        sourcesOf: (record) => {
          const car =
            record.carId === current.id ? current : cars.find(({ id }) => id === record.carId);
          if (!car) return null;
          const sheet = sheets.find(({ id }) => id === record.sheetId) ?? null;
          return sourcesOf(record, { car, captures, cross: settings.cross, sheet });
        },
      },
    [records, sheets, captures, cars, current, settings.cross],
  );
};
