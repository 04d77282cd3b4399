import { z } from 'zod';
import { itemIdSchema } from '../sheet/itemId.ts';
import { measuredSchema, PHASES } from './records.ts';

/** The trace of one item over the records of a season: a few numbers of each, not the records. */

const id = z.string().min(1).max(64);

export const SEASON_COMMANDS = [
  z.strictObject({
    do: z.literal('open season'),
    item: itemIdSchema,
    /** Which records; null takes all. */
    filter: z.strictObject({
      carId: id.nullable(),
      venueId: id.nullable(),
      phase: z.enum(PHASES).nullable(),
    }),
  }),
] as const;

/** One point of the trace of an item. */
const seasonPointSchema = z.strictObject({
  recordId: id,
  carId: id,
  /** Wall-clock label, ms. */
  at: z.number().int(),
  phase: z.enum(PHASES),
  venueName: z.string(),
  value: measuredSchema,
  /** Parts of its uncertainty that are not known: then u is a lower bound. */
  isLowerBound: z.boolean(),
  target: z.number().nullable(),
  /** The sheet it was measured to was released with this record. */
  isRelease: z.boolean(),
});
export type SeasonPoint = z.infer<typeof seasonPointSchema>;

/** What scrutineers read of the item, as it stands in a pair. */
const theirReadingSchema = z.strictObject({
  pairId: id,
  /** Days since 1970; null where not known. */
  day: z.number().int().nullable(),
  authorityName: z.string(),
  event: z.string(),
  value: z.number(),
});
export type TheirReading = z.infer<typeof theirReadingSchema>;

export const SEASON_RESULTS = [
  z.strictObject({
    is: z.literal('season'),
    points: z.array(seasonPointSchema),
    /** Of the car asked for, at any venue and in any phase: a pair names neither. */
    theirs: z.array(theirReadingSchema),
  }),
] as const;
