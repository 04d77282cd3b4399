import { z } from 'zod';
import { itemIdSchema } from '../sheet/itemId.ts';
import { cornerSchema } from './records.ts';

/** What happens to the practice car on a run, and what its gauges read by hand. SI. */

const practiceHappeningSchema = z.discriminatedUnion('what', [
  /** Toe of one wheel, rad: toe-in positive. Nothing of it is seen on the pads. */
  z.strictObject({
    what: z.literal('bent toe link'),
    corner: cornerSchema,
    toe: z.number().min(-0.05).max(0.05),
  }),
  /** The spring seat gives way by so much at the spring, metre; the perch count does not show it. */
  z.strictObject({
    what: z.literal('dropped seat'),
    corner: cornerSchema,
    by: z.number().positive().max(0.02),
  }),
  /** Kilogram out of the tank. */
  z.strictObject({ what: z.literal('fuel burnt'), mass: z.number().positive().max(200) }),
]);
export type PracticeHappening = z.infer<typeof practiceHappeningSchema>;

export const PRACTICE_COMMANDS = [
  /** Raised first. An empty list: nothing happens. A surprise is chosen by the rig's seed. */
  z.strictObject({
    do: z.literal('send practice car out'),
    happens: z.union([z.array(practiceHappeningSchema).max(4), z.literal('surprise')]),
  }),
  /** What happened on all runs so far, oldest first. */
  z.strictObject({ do: z.literal('tell practice runs') }),
  /** Reads an item of the sheet by hand on the practice car, standing on its pads. */
  z.strictObject({ do: z.literal('read practice gauge'), item: itemIdSchema }),
] as const;

export const PRACTICE_RESULTS = [
  z.strictObject({
    is: z.literal('practice runs'),
    runs: z.array(z.array(practiceHappeningSchema)),
  }),
  /** One reading, SI of the item's quantity, as the gauge shows it. */
  z.strictObject({ is: z.literal('practice gauge read'), item: itemIdSchema, value: z.number() }),
] as const;
