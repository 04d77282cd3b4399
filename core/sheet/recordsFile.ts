import type { Capture } from '../contract/records.ts';
import type { Car } from './car.ts';
import type { CarRecord } from './carRecord.ts';
import type { SetUpSheet } from './setUpSheet.ts';

/** Cars, sheets, records and captures as one JSON text: see recordsFile.md beside this file. */

export const RECORDS_FORMAT = 'millpond-records';
export const RECORDS_VERSION = 1;

/** What a file holds, and what an import adds. */
export interface Records {
  readonly cars: readonly Car[];
  readonly sheets: readonly SetUpSheet[];
  readonly records: readonly CarRecord[];
  readonly captures: readonly Capture[];
}

export const NO_RECORDS: Records = { cars: [], sheets: [], records: [], captures: [] };

/** Writes a file. The same records give the same text. `writtenAt` is a wall-clock label, ms. */
export const writeRecordsFile = (records: Records, writtenAt: number): string => {
  const { cars, sheets, captures } = records;
  const file = {
    format: RECORDS_FORMAT,
    version: RECORDS_VERSION,
    units: 'SI',
    writtenAt,
    cars,
    sheets,
    records: records.records,
    captures,
  };
  // Infinite degrees of freedom become null, which is how the schemas read them.
  return `${JSON.stringify(file, null, 1)}\n`;
};
