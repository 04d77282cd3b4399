import { z } from 'zod';
import { TYRE_STATES } from '../scrutineering/pair.ts';
import { carSchema } from '../sheet/car.ts';
import { itemIdSchema, partIdSchema } from '../sheet/itemId.ts';
import { perCornerSchema } from './records.ts';

/**
 * What is kept and sent of scrutineering: authorities, pairs of readings, plates and ballast plans. SI
 * of each quantity; shares as fractions, totals in kg.
 */

const text = z.string().trim().min(1).max(80);
const positive = z.number().positive();
const mass = z.number().min(0).max(2000);
const count = z.number().int().min(0).max(1000);

/** What the car was in when it was read; null is not checked. */
const readingStateSchema = z.strictObject({
  seatMass: mass.nullable(),
  fuelMass: mass.nullable(),
  tyres: z.enum(TYRE_STATES).nullable(),
});

/** A limit as rules have it; null on a side without one. */
const limitSchema = z.strictObject({ low: z.number().nullable(), high: z.number().nullable() });

/** What is known of their equipment for one quantity, beside the pairs. */
const equipmentSchema = z.strictObject({
  /** Kind of item, as `camber`; of a free item its whole id. */
  quantity: itemIdSchema,
  /** Step of their display; null where not known. */
  step: positive.nullable(),
  /** What the user states: theirs less ours with its standard uncertainty; null for nothing. */
  stated: z.strictObject({ difference: z.number(), u: z.number().nonnegative() }).nullable(),
  /** The authority's own limits of error, ±; null where not known. */
  limitOfError: positive.nullable(),
  /** The scatter of other authorities is taken as alike. */
  poolOthers: z.boolean(),
  /** The trend is followed to the day, instead of the mean. */
  followTrend: z.boolean(),
});
export type Equipment = z.infer<typeof equipmentSchema>;

export const authoritySchema = z.strictObject({
  name: text,
  equipment: z.array(equipmentSchema).max(100),
  /** The state in which they read the car. */
  reads: readingStateSchema,
  /** Probability of passing that is wished. */
  wished: z.number().gt(0.5).lt(1),
  /** What their rules say of ballast. */
  ballast: z.strictObject({
    /** kg in the whole car; null is no limit. */
    most: mass.nullable(),
    /** Plates at one place. */
    mostPlates: count.nullable(),
    /** Places of the car where none may be. */
    notAt: z.array(partIdSchema).max(24),
    /** How it must be fixed, in their words. */
    fixing: z.string().trim().max(200),
  }),
});
export type Authority = z.infer<typeof authoritySchema>;

export const pairSchema = z.strictObject({
  id: z.string().min(1).max(64),
  /** The item that was read twice. */
  item: itemIdSchema,
  carId: z.string().min(1).max(64),
  event: text,
  /** Date and venue, as people read them. */
  label: z.string().trim().min(1).max(160),
  /** Days since 1970; null where not known. */
  day: z.number().int().nullable(),
  ours: z.number(),
  theirs: z.number(),
  gravity: z.strictObject({ taken: positive, there: positive }).nullable(),
  states: z.strictObject({ ours: readingStateSchema, theirs: readingStateSchema }),
});
export type KeptPair = z.infer<typeof pairSchema>;

export const plateSizeSchema = z.strictObject({
  id: partIdSchema,
  name: text,
  mass: z.number().positive().max(1000),
  count,
});

/** As `BallastProblem`. */
export const ballastProblemSchema = z.strictObject({
  car: carSchema,
  loads: perCornerSchema(z.number()),
  bars: z.enum(['on', 'off']),
  total: limitSchema,
  frontShare: limitSchema,
  leftShare: limitSchema,
  mostBallast: z.number().nullable(),
  places: z
    .array(
      z.strictObject({
        id: partIdSchema,
        name: text,
        x: z.number(),
        y: z.number(),
        z: z.number().nullable(),
        leastMass: z.number().nullable(),
        mostMass: z.number().nullable(),
        mostPlates: z.number().nullable(),
        takes: z.array(partIdSchema).max(60).readonly().nullable(),
        fixing: z.string().max(200),
      }),
    )
    .max(24)
    .readonly(),
  plates: z.array(plateSizeSchema).max(60).readonly(),
});

const countsSchema = z.array(z.array(count).readonly()).readonly();
const rankSchema = z.strictObject({ steps: z.number().int(), plates: z.number().int() });

/** As `BallastPlan`. */
export const ballastPlanSchema = z.strictObject({
  counts: countsSchema,
  worth: rankSchema.extend({ grams: z.number().int() }),
  isProved: z.boolean(),
  bound: rankSchema.nullable(),
});

/** The newest planning of ballast and what has come of it. */
export const ballastShownSchema = z.strictObject({
  id: z.string(),
  problem: ballastProblemSchema,
  /** The best so far, then the best; null while or where there is none. */
  best: ballastPlanSchema.nullable(),
  /** The next best ones, once the best is there. */
  others: z.array(ballastPlanSchema).readonly(),
  standing: z.discriminatedUnion('is', [
    z.strictObject({ is: z.literal('searching') }),
    z.strictObject({ is: z.literal('planned') }),
    z.strictObject({
      is: z.literal('no plan'),
      inTheWay: z
        .array(
          z.strictObject({ limit: z.string(), by: z.number(), unit: z.enum(['kg', 'plates']) }),
        )
        .readonly(),
      together: z.boolean(),
    }),
    z.strictObject({ is: z.literal('not found') }),
    z.strictObject({ is: z.literal('cancelled') }),
    z.strictObject({ is: z.literal('failed'), why: z.string() }),
  ]),
});
export type BallastShown = z.infer<typeof ballastShownSchema>;

export const BALLAST_COMMANDS = [
  /** Begins planning; a planning at work is given up. */
  z.strictObject({ do: z.literal('plan ballast'), problem: ballastProblemSchema }),
  /** Ends it: the best so far stays. */
  z.strictObject({ do: z.literal('cancel ballast') }),
] as const;
