import { z } from 'zod';
import { TONES } from '../answers/answer.ts';

/** How the answers of the screens stand that are made of kept records, for the rail. */

export const STANDINGS_COMMANDS = [z.strictObject({ do: z.literal('open standings') })] as const;

const standingSchema = z.strictObject({ tone: z.enum(TONES), text: z.string() });
export type Standing = z.infer<typeof standingSchema>;

/** Null: not known, or not yet. */
const placeSchema = standingSchema.nullable();

export const standingsSchema = z.strictObject({
  patch: placeSchema,
  adjust: placeSchema,
  measure: placeSchema,
  compare: placeSchema,
  scrutineering: placeSchema,
  season: placeSchema,
  garage: placeSchema,
});
export type Standings = z.infer<typeof standingsSchema>;

export const STANDINGS_RESULTS = [
  z.strictObject({ is: z.literal('standings'), standings: standingsSchema }),
] as const;
