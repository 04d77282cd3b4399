import { z } from 'zod';
import { CROSS_DIAGONALS, measuredSchema } from '../contract/records.ts';
import { BACK_TO_RUNNING, RUNNING_ANSWERS } from './backToRunning.ts';
import { carStateSchema, UNCHECKED_CAR_STATE } from './carState.ts';
import type { Car } from './car.ts';
import { itemIdSchema } from './itemId.ts';
import { extraItemSchema } from './items.ts';
import { WORK_STEPS } from './orderOfWork.ts';

/**
 * The set-up sheet: what the car shall be. It is versioned; a released one is never changed, a copy
 * with the next number is. Targets and tolerances in SI.
 */

const id = z.string().min(1).max(64);
/** Wall-clock label, ms since 1970 UTC. */
const at = z.number().int();
const who = z.string().trim().max(60);

/** What stood for the driver, the fuel and the ballast; null where nobody has said. */
export const representedSchema = z.strictObject({
  driver: z.enum(['driver', 'dummy', 'masses in the seat', 'nobody']).nullable(),
  fuel: z.enum(['fuel', 'masses in its place', 'empty']).nullable(),
  ballast: z.enum(['fixed in its places', 'not fitted']).nullable(),
});
export type Represented = z.infer<typeof representedSchema>;

const sheetLineSchema = z.strictObject({
  item: itemIdSchema,
  /** Null: to be measured, with no target. */
  target: z.number().nullable(),
  /** The smallest change worth acting on, either way; null where nobody has said. */
  tolerance: z.number().positive().nullable(),
  /** In which people want it, as the unit is shown; null: as the settings have it. */
  unit: z.string().max(12).nullable(),
});
export type SheetLine = z.infer<typeof sheetLineSchema>;

/** A value as it was built, for the release. */
const asBuiltSchema = z.strictObject({
  item: itemIdSchema,
  value: measuredSchema,
  /** Parts of the uncertainty that are not known: then `u` is a lower bound. */
  unknown: z.array(z.string()),
  /** Work was done after it that may have moved it. */
  stale: z.boolean(),
});
export type AsBuilt = z.infer<typeof asBuiltSchema>;

const releaseSchema = z.strictObject({
  at,
  who,
  recordId: id,
  asBuilt: z.array(asBuiltSchema).max(400),
  backToRunning: z
    .array(z.strictObject({ item: z.enum(BACK_TO_RUNNING), answer: z.enum(RUNNING_ANSWERS) }))
    .max(BACK_TO_RUNNING.length),
});

const noneTwice = <T>(all: readonly T[], key: (each: T) => string): boolean =>
  new Set(all.map(key)).size === all.length;

export const sheetSchema = z
  .strictObject({
    id,
    /** The same for all versions of a sheet. */
    lineageId: id,
    /** Version within the lineage, from 1. */
    number: z.number().int().positive(),
    name: z.string().trim().min(1).max(80),
    carId: id,
    copiedFrom: id.nullable(),
    /** What was changed against the one it was copied from, in the writer's words. */
    changed: z.string().max(400),
    writtenAt: at,
    who,
    /** The diagonal that cross % means on this sheet; always said. */
    cross: z.enum(CROSS_DIAGONALS),
    lines: z.array(sheetLineSchema).max(400),
    extras: z.array(extraItemSchema).max(100),
    /** The state in which the car shall be measured. */
    state: carStateSchema,
    represented: representedSchema,
    /** The crew's own order of work. */
    order: z.array(z.enum(WORK_STEPS)).max(WORK_STEPS.length),
    notes: z.string().max(8000),
    released: releaseSchema.nullable(),
  })
  .refine(({ lines }) => noneTwice(lines, ({ item }) => item), {
    path: ['lines'],
    message: 'two lines are for the same item',
  })
  .refine(({ extras }) => noneTwice(extras, (extra) => extra.id), {
    path: ['extras'],
    message: 'two free items have the same id',
  });
export type SetUpSheet = z.infer<typeof sheetSchema>;

const NOTHING_REPRESENTED: Represented = { driver: null, fuel: null, ballast: null };

/** What a version of a sheet is labelled with. */
export type SheetLabels = Pick<SetUpSheet, 'id' | 'writtenAt' | 'who'>;

/** An empty first version for a car. `cross` is asked for: no diagonal is taken for granted. */
export const emptySheet = (
  car: Car,
  labels: SheetLabels & Pick<SetUpSheet, 'lineageId' | 'name' | 'cross'>,
): SetUpSheet => ({
  ...labels,
  number: 1,
  carId: car.id,
  copiedFrom: null,
  changed: '',
  lines: [],
  extras: [],
  state: UNCHECKED_CAR_STATE,
  represented: NOTHING_REPRESENTED,
  order: [...WORK_STEPS],
  notes: '',
  released: null,
});

/**
 * The next version: everything copied but the release. `newestNumber` is the highest number that the
 * lineage has, which may be above that of the sheet copied.
 */
export const copySheet = (
  from: SetUpSheet,
  labels: SheetLabels & { readonly newestNumber: number },
): SetUpSheet => ({
  ...from,
  id: labels.id,
  writtenAt: labels.writtenAt,
  who: labels.who,
  number: labels.newestNumber + 1,
  copiedFrom: from.id,
  changed: '',
  released: null,
});

/** The line of an item; null where the sheet has none. */
export const lineOf = (sheet: SetUpSheet, item: string): SheetLine | null =>
  sheet.lines.find((line) => line.item === item) ?? null;

/** The target of an item; null where there is none. */
export const targetOf = (sheet: SetUpSheet, item: string): number | null =>
  lineOf(sheet, item)?.target ?? null;
