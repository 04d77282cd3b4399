import type { z } from 'zod';
import { captureSchema, type Capture } from '../contract/records.ts';
import { carSchema, type Car } from './car.ts';
import { carRecordSchema, type CarRecord } from './carRecord.ts';
import { contradictionsOf } from './contradictions.ts';
import { captureWrong, recordWrong, sheetWrong, usualTotal } from './filePlausible.ts';
import { fileProblems } from './fileProblems.ts';
import { itemsById, itemsOf } from './items.ts';
import { RECORDS_FORMAT, RECORDS_VERSION, type Records } from './recordsFile.ts';
import { sheetSchema, type SetUpSheet } from './setUpSheet.ts';

/** Something of a file that is not taken, and why. */
export interface RefusedPart {
  readonly list: keyof Records | 'file';
  /** Place in its list, from 1; 0 for the file. */
  readonly place: number;
  readonly id: string | null;
  readonly name: string | null;
  readonly why: string;
}

/** Something that is taken and should be looked at. */
export interface Remark {
  readonly list: keyof Records;
  readonly id: string;
  readonly words: string;
}

export type RecordsRead =
  | {
      readonly ok: true;
      readonly accepted: Records;
      readonly refused: readonly RefusedPart[];
      readonly remarks: readonly Remark[];
    }
  | { readonly ok: false; readonly why: string };

const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const LISTS = ['cars', 'captures', 'sheets', 'records'] as const satisfies (keyof Records)[];
const HEAD = ['format', 'version', 'units', 'writtenAt'];

const textAt = (value: unknown, key: string): string | null => {
  const found = isObject(value) ? value[key] : null;
  return typeof found === 'string' ? found : null;
};

/** JSON of a value whose keys are sorted: equal for equal content. */
const canonical = (value: unknown): string =>
  JSON.stringify(value, (_, each: unknown) =>
    isObject(each)
      ? Object.fromEntries(Object.entries(each).toSorted(([a], [b]) => (a < b ? -1 : 1)))
      : each,
  );

type Head =
  | { readonly ok: true; readonly file: Readonly<Record<string, unknown>> }
  | { readonly ok: false; readonly why: string };

const headOf = (text: string): Head => {
  let file: unknown;
  try {
    file = JSON.parse(text.replace(/^\ufeff/u, ''));
  } catch (error) {
    const where = error instanceof Error ? error.message : '';
    return {
      ok: false,
      why: `The file is damaged or not whole: it is no JSON (${where}). Export or copy it again; nothing was taken from it.`,
    };
  }
  if (!isObject(file) || file['format'] !== RECORDS_FORMAT)
    return {
      ok: false,
      why: `This is not a file of records: its format is not “${RECORDS_FORMAT}”.`,
    };
  const { version, units } = file;
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1)
    return { ok: false, why: 'The file does not say its version.' };
  if (version > RECORDS_VERSION)
    return {
      ok: false,
      why: `The file was written by a newer version (${version}). Use that one to read it.`,
    };
  if (units !== 'SI')
    return {
      ok: false,
      why: 'The file does not say that its numbers are in SI units. Convert them and write "units": "SI".',
    };
  return { ok: true, file };
};

/**
 * Reads a file of records: what is whole and possible is accepted, everything else is refused by itself
 * with its reason, so that one bad thing loses no other. `here` is what there is already: the same id is
 * refused, and said whether it is the same thing. Cars are read first, then what refers to them.
 */
export const readRecordsFile = (text: string, here: Records): RecordsRead => {
  const head = headOf(text);
  if (!head.ok) return head;
  const { file } = head;
  const refused: RefusedPart[] = Object.keys(file)
    .filter((key) => !HEAD.includes(key) && !LISTS.some((list) => list === key))
    .map((key) => ({
      list: 'file',
      place: 0,
      id: null,
      name: key,
      why: `“${key}” is not part of the format and was left out.`,
    }));
  const remarks: Remark[] = [];

  const take = <T extends { readonly id: string }>(
    list: keyof Records,
    schema: z.ZodType<T>,
    wrong: (thing: T) => string | null,
  ): readonly T[] => {
    const raw = file[list] ?? [];
    if (!Array.isArray(raw)) {
      refused.push({ list, place: 0, id: null, name: null, why: `“${list}” is not a list.` });
      return [];
    }
    const known = new Map(here[list].map((each): [string, unknown] => [each.id, each]));
    const taken = new Map<string, T>();
    for (const [index, each] of (raw as unknown[]).entries()) {
      const refuse = (why: string): void => {
        const id = textAt(each, 'id');
        const name = textAt(each, 'name') ?? textAt(each, 'carName');
        refused.push({ list, place: index + 1, id, name, why });
      };
      const parsed = schema.safeParse(each);
      if (!parsed.success) {
        refuse(fileProblems(parsed.error, each));
        continue;
      }
      const thing = parsed.data;
      const before = known.get(thing.id);
      const why = taken.has(thing.id)
        ? 'It is in the file twice: the second is left out.'
        : before === undefined
          ? wrong(thing)
          : canonical(before) === canonical(thing)
            ? 'It is here already, and the same.'
            : 'Another one with the same id is here already; nothing was replaced.';
      if (why === null) taken.set(thing.id, thing);
      else refuse(why);
    }
    return [...taken.values()];
  };

  const cars = take('cars', carSchema, () => null);
  const carOf = (id: string): Car | undefined =>
    [...cars, ...here.cars].find((car) => car.id === id);
  const noCar = (carId: string): string => `Its car (${carId}) is neither here nor in the file.`;

  const captures = take('captures', captureSchema, (capture) =>
    carOf(capture.carId) ? captureWrong(capture) : noCar(capture.carId),
  );
  const allCaptures: readonly Capture[] = [...captures, ...here.captures];

  const sheets = take('sheets', sheetSchema, (sheet) => {
    const car = carOf(sheet.carId);
    if (!car) return noCar(sheet.carId);
    const items = itemsById(itemsOf(car, sheet.extras));
    return sheetWrong(sheet, items, usualTotal(allCaptures, car.id));
  });
  for (const sheet of sheets) {
    const car = carOf(sheet.carId);
    for (const { words } of car ? contradictionsOf(sheet, car) : [])
      remarks.push({ list: 'sheets', id: sheet.id, words });
  }
  const sheetOf = (id: string | null): SetUpSheet | null =>
    [...sheets, ...here.sheets].find((sheet) => sheet.id === id) ?? null;

  const records = take('records', carRecordSchema, (record: CarRecord) => {
    const car = carOf(record.carId);
    if (!car) return noCar(record.carId);
    const sheet = sheetOf(record.sheetId);
    if (record.sheetId !== null && !sheet)
      return `Its sheet (${record.sheetId}) is neither here nor in the file.`;
    const lost = record.entries.find(
      (entry) => entry.is === 'capture' && !allCaptures.some(({ id }) => id === entry.captureId),
    );
    if (lost?.is === 'capture')
      return `Its capture (${lost.captureId}) is neither here nor in the file.`;
    return recordWrong(record, itemsById(itemsOf(car, record.extras)), sheet);
  });
  return { ok: true, accepted: { cars, sheets, records, captures }, refused, remarks };
};
