import { z } from 'zod';
import { dofSchema } from './dof.ts';
import { cornerSchema, PHASES } from '../contract/records.ts';
import { QUANTITY_KINDS } from '../format/unitTable.ts';
import { carStateSchema } from './carState.ts';
import { itemIdSchema, partIdSchema } from './itemId.ts';
import { AXLES } from './itemKinds.ts';
import { extraItemSchema } from './items.ts';
import { WORKS } from './orderOfWork.ts';
import { representedSchema, type SetUpSheet } from './setUpSheet.ts';

/**
 * A car state record: everything measured of the car at one time. Readings, captures and work on the
 * car stand in one list in the order in which they happened, so that what was read before a change is
 * known to be stale by its place, whatever the clocks say. Entries are only added; a reading that does
 * not count is set aside and stays.
 */

const id = z.string().min(1).max(64);
const at = z.number().int();
const who = z.string().trim().max(60);
const part = z.strictObject({
  u: z.number().nonnegative(),
  dof: dofSchema,
});

/** Against what a reading was taken: the datum decides what a change of it means. */
const DATUMS = [
  'pad',
  'patch',
  'ground',
  'gravity',
  'string on the car',
  'string on the ground',
] as const;
export type Datum = (typeof DATUMS)[number];

/** What a thing is read with, as it was known when it was used. SI of its quantity. */
export const gaugeSchema = z.strictObject({
  id: partIdSchema,
  name: z.string().trim().min(1).max(60),
  quantity: z.enum(QUANTITY_KINDS),
  /** Smallest step it shows or that is read from it. */
  resolution: z.number().positive(),
  /** Scatter of one reading, which repeats average out; null where it is not known. */
  scatter: part.nullable(),
  /** Its own error, which all its readings share; null where it is not known. */
  shared: part.nullable(),
});
export type Gauge = z.infer<typeof gaugeSchema>;

const readingSchema = z.strictObject({
  is: z.literal('reading'),
  id,
  item: itemIdSchema,
  value: z.number(),
  /** As it was typed, so that a wrong unit can be found later. */
  typed: z.string().max(60),
  gauge: partIdSchema,
  datum: z.enum(DATUMS).nullable(),
  /** Readings it was computed of, such as both distances to the string; empty where it was read as it is. */
  of: z.array(z.strictObject({ what: z.string().min(1).max(60), value: z.number() })).max(40),
  /** Uncertainty of the value as computed of several readings; null: that of the gauge. */
  own: part.nullable(),
  /** Why it was questioned when it was typed; null where it was not. It may count all the same. */
  questioned: z.string().max(400).nullable(),
  setAside: z.boolean(),
  who,
  at,
});
export type Reading = z.infer<typeof readingSchema>;

const capturedSchema = z.strictObject({
  is: z.literal('capture'),
  id,
  captureId: id,
  /** The unchanged car lowered once more: it is averaged with the captures before it. */
  repeat: z.boolean(),
  setAside: z.boolean(),
  at,
});
export type Captured = z.infer<typeof capturedSchema>;

const workSchema = z.strictObject({
  is: z.literal('work'),
  id,
  what: z.enum(WORKS),
  corner: cornerSchema.nullable(),
  axle: z.enum(AXLES).nullable(),
  /** Ballast place. */
  part: partIdSchema.nullable(),
  /**
   * How much, SI: turns up of a height adjuster (a shim is a turn), metre, rad, kg put in. Null where nobody has said: then it cannot be taken out of a comparison.
   */
  amount: z.number().nullable(),
  note: z.string().max(400),
  who,
  at,
});
export type Work = z.infer<typeof workSchema>;

export const entrySchema = z.discriminatedUnion('is', [readingSchema, capturedSchema, workSchema]);
export type Entry = z.infer<typeof entrySchema>;

/** Times of a set-down. */
const timerSchema = z.strictObject({
  /** Wall-clock labels, ms; null until then. */
  carInAt: at.nullable(),
  sheetReadyAt: at.nullable(),
  /** Seconds between them by the monotonic clock; null until ready, or when the bench was restarted. */
  seconds: z.number().nonnegative().nullable(),
});

export const carRecordSchema = z
  .strictObject({
    id,
    phase: z.enum(PHASES),
    carId: id,
    /** Null where the car is measured without a sheet. */
    sheetId: id.nullable(),
    outingId: id.nullable(),
    venueId: id.nullable(),
    surveyId: id.nullable(),
    /** Which laying of the pads it stood on, counted; null where the patch is not known. */
    laying: z.number().int().nonnegative().nullable(),
    begunAt: at,
    /** True when the pads were the practice rig: never mixed with real records. */
    practice: z.boolean(),
    state: carStateSchema,
    represented: representedSchema,
    extras: z.array(extraItemSchema).max(100),
    gauges: z.array(gaugeSchema).max(40),
    /** The crew's order of walking, by item. */
    walk: z.array(itemIdSchema).max(400),
    entries: z.array(entrySchema).max(5000),
    timer: timerSchema,
    note: z.string().max(4000),
    setAside: z.boolean(),
  })
  .superRefine(({ gauges, entries }, context) => {
    const known = new Set(gauges.map((gauge) => gauge.id));
    if (known.size !== gauges.length)
      context.addIssue({
        code: 'custom',
        path: ['gauges'],
        message: 'two gauges have the same id',
      });
    if (new Set(entries.map((entry) => entry.id)).size !== entries.length)
      context.addIssue({
        code: 'custom',
        path: ['entries'],
        message: 'two entries have the same id',
      });
    for (const [index, entry] of entries.entries())
      if (entry.is === 'reading' && !known.has(entry.gauge))
        context.addIssue({
          code: 'custom',
          path: ['entries', index, 'gauge'],
          message: `gauge “${entry.gauge}” is not among the gauges of the record`,
        });
  });
export type CarRecord = z.infer<typeof carRecordSchema>;

/** A record that begins: nothing measured yet. The walk is that of the crew's last record. */
export const beginRecord = (
  about: Pick<
    CarRecord,
    | 'id'
    | 'phase'
    | 'carId'
    | 'outingId'
    | 'venueId'
    | 'surveyId'
    | 'laying'
    | 'begunAt'
    | 'practice'
    | 'state'
    | 'walk'
  > & { readonly sheet: SetUpSheet | null },
): CarRecord => {
  const { sheet, ...labels } = about;
  return {
    ...labels,
    sheetId: sheet?.id ?? null,
    represented: sheet?.represented ?? { driver: null, fuel: null, ballast: null },
    extras: sheet?.extras ?? [],
    gauges: [],
    entries: [],
    timer: { carInAt: null, sheetReadyAt: null, seconds: null },
    note: '',
    setAside: false,
  };
};

/** The record with one more entry, and the gauge it was read with where the record has it not yet. */
export const withEntry = (record: CarRecord, entry: Entry, gauge?: Gauge): CarRecord => ({
  ...record,
  gauges:
    gauge && !record.gauges.some(({ id: known }) => known === gauge.id)
      ? [...record.gauges, gauge]
      : record.gauges,
  entries: [...record.entries, entry],
});

/** The order in which the items of this record were first read, for the crew's next walk. */
export const walkAsWalked = (record: CarRecord): readonly string[] => [
  ...new Set([
    ...record.entries.flatMap((entry) => (entry.is === 'reading' ? [entry.item] : [])),
    ...record.walk,
  ]),
];

/**
 * Operator time from car in to sheet ready, seconds. By the monotonic clock where one process saw both;
 * else by the labels of the wall clock, and said so. Null until both are there.
 */
export const timeToSheet = ({
  timer,
}: CarRecord): { readonly seconds: number; readonly clock: 'monotonic' | 'wall' } | null => {
  if (timer.seconds !== null) return { seconds: timer.seconds, clock: 'monotonic' };
  if (timer.carInAt === null || timer.sheetReadyAt === null) return null;
  return { seconds: (timer.sheetReadyAt - timer.carInAt) / 1000, clock: 'wall' };
};
