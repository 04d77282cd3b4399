import { z } from 'zod';
import { OFF_CENTRE_PLACES } from '../calibration/offCentre.ts';
import { axleLiftSchema } from '../sheet/axleLiftKept.ts';
import { carRecordSchema, entrySchema, gaugeSchema } from '../sheet/carRecord.ts';
import { massSetSchema } from '../sheet/massSet.ts';
import { sheetSchema } from '../sheet/setUpSheet.ts';
import { adjustmentSchema } from './adjustment.ts';
import { limitsSchema, takenPointSchema } from './calibrationRecord.ts';
import { patchSurveySchema } from './patchSurvey.ts';
import { practiceWalkSchema } from './practiceWalk.ts';
import { captureSchema, measuredSchema } from './records.ts';
import {
  authoritySchema,
  ballastPlanSchema,
  ballastProblemSchema,
  pairSchema,
  plateSizeSchema,
} from './scrutineering.ts';

/**
 * Records of many kinds that are kept alike: each has an id, belongs to a subject (a pad's serial
 * number, a study), and is only ever added. What a kind means is its schema here; a new kind needs no
 * new table.
 */

const id = z.string().min(1).max(64);
const serial = z.string().min(1).max(64);
const text = z.string().trim().min(1).max(80);
const positive = z.number().positive().finite();

/** What every kept record begins with. */
const kind = <K extends string, T extends z.ZodRawShape>(name: K, body: T) =>
  z.strictObject({
    kind: z.literal(name),
    id,
    /** What it belongs to: records of one subject are read together. */
    subject: z.string().min(1).max(64),
    /** Wall-clock label, milliseconds since 1970 UTC. */
    at: z.number().int(),
    /** Made with the practice rig: never mixed with real records. */
    practice: z.boolean(),
    ...body,
  });

/** Where something was done, and its gravity, m/s². */
export const placeSchema = z.strictObject({
  venueId: z.string().nullable(),
  name: z.string(),
  gravity: positive,
});

export const keptSchema = z.discriminatedUnion('kind', [
  /** Subject: the set's id. The newest of a set counts. */
  kind('mass set', { set: massSetSchema, isAside: z.boolean() }),

  /** Subject: the pad. Its points follow, and it ends as a record or by being given up. */
  kind('calibration begun', {
    masses: massSetSchema.nullable(),
    reference: z
      .strictObject({
        padSerial: serial,
        calibrationId: id,
        uRelative: z.number().nonnegative().nullable(),
      })
      .nullable(),
    against: limitsSchema.nullable(),
    place: placeSchema,
    rating: z.strictObject({ ratedLoad: positive, countsAtRatedLoad: z.number() }).nullable(),
  }),
  /** Subject: the id of its beginning. A point told again with the same number replaces the earlier. */
  kind('calibration point', {
    point: takenPointSchema,
    /** Newest force on every other pad that was heard, newton: to see what was placed elsewhere. */
    elsewhere: z.array(z.strictObject({ padSerial: serial, force: z.number() })),
  }),
  /** Subject: the id of its beginning. */
  kind('calibration ended', { how: z.enum(['finished', 'given up']) }),
  /** Subject: the pad. Which calibration it is used with; null is the maker's rating. */
  kind('calibration choice', { calibrationId: id.nullable() }),

  /** Subject: the pad. How it was when a zero was taken. */
  kind('zero taken', {
    zeroId: id,
    /** Zero as the force it would be taken for without it, newton, with its u. */
    force: z.number(),
    u: z.number().nonnegative(),
    /** Standard deviation of single readings, newton. */
    sd: z.number().nonnegative(),
    temperature: z.number().nullable(),
    /** Seconds since the pad was switched on; null where it does not say. */
    onFor: z.number().nonnegative().nullable(),
  }),
  /** Subject: the pad. One known mass, put on to see whether the span still holds. */
  kind('mass check', {
    calibrationId: id.nullable(),
    place: placeSchema,
    masses: z.array(text).min(1),
    /** Mass applied, kg; u null where only the number on it is known. */
    mass: z.strictObject({ value: positive, u: z.number().nonnegative().nullable() }),
    /** Force read, newton, scatter of reading and zero. */
    force: measuredSchema,
    /** Relative change of the span, and its uncertainty from reading and zero. */
    relative: z.number(),
    uReading: z.number().nonnegative(),
    /** Mass read less mass applied, kg. */
    difference: z.number(),
    state: z.enum(['same', 'moved', 'cannot tell']),
    temperature: z.number().nullable(),
  }),

  /** Subject: the pad. One reading of a test; those of one test share its id. */
  kind('off-centre reading', {
    testId: id,
    place: z.enum(OFF_CENTRE_PLACES),
    /** Distance of the edges from the middle, metre. */
    distance: positive,
    mass: positive,
    read: measuredSchema,
  }),

  /** Subject: the study. One lowering of the unchanged car, by its capture. */
  kind('lowering', {
    captureId: id,
    /** Who lowered it. */
    person: text,
    /** Number of the laying of the patch: relaid is the next. */
    laying: z.number().int().positive(),
  }),

  /** Subject: the sheet's lineage. Each version once; a release is told as the version again. */
  kind('sheet', { sheet: sheetSchema }),
  /** Subject: the record. All of it but its entries, told again when something in it changes. */
  kind('car record', { record: carRecordSchema }),
  /** Subject: the record. An entry told again takes the place of the earlier telling. */
  kind('record entry', { entry: entrySchema, gauge: gaugeSchema.nullable() }),
  /** Subject: the capture. One that came with a file of records: without its raw window. */
  kind('capture read in', { capture: captureSchema }),
  /** Subject: the car. Told again with each reading. */
  kind('axle lift', { lift: axleLiftSchema }),
  /** Subject: the survey. Told again as its screws are done. */
  kind('patch survey', { survey: patchSurveySchema }),
  /** Subject: the adjustment. Told again with each step made. */
  kind('adjustment', { adjustment: adjustmentSchema }),
  /** Subject: the walk. Told again with each step; only ever of practice. */
  kind('practice walk', { walk: practiceWalkSchema }),
  /** Subject: the car or venue. The newest counts. */
  kind('set aside', { isAside: z.boolean() }),
  /** Subject: the gauge. */
  kind('gauge', { gauge: gaugeSchema, isAside: z.boolean() }),

  /** Subject: the authority. The newest counts. */
  kind('authority', { authority: authoritySchema, isAside: z.boolean() }),
  /** Subject: the authority. A pair told again takes the place of the earlier telling. */
  kind('pair', { pair: pairSchema, isAside: z.boolean() }),
  /** Ballast plates that are owned. Subject: the size; its newest counts. */
  kind('plates', { size: plateSizeSchema }),
  /** Subject: the car. A plan that was chosen, with the problem it solves. */
  kind('ballast plan', {
    problem: ballastProblemSchema,
    plan: ballastPlanSchema,
    authorityId: id,
  }),

  /**
   * Subject: the id that two databases had for rows that say different things. One of them counts; this
   * keeps the other: its table, and its columns as JSON.
   */
  kind('conflict', { table: text, content: z.string().min(2) }),

  /** Subject: the description's name. The newest counts. */
  kind('pad description', { text: z.string().min(2).max(200_000), isAside: z.boolean() }),
]);
export const KEPT_KINDS = keptSchema.options.map((option) => option.shape.kind.value);
export type Kept = z.infer<typeof keptSchema>;
export type KeptKind = Kept['kind'];
export type KeptOf<K extends KeptKind> = Extract<Kept, { readonly kind: K }>;
