import { z } from 'zod';
import { CALL_VERDICTS } from '../adjust/progress.ts';
import { CORNER_LABEL_STYLES } from '../corners.ts';
import { MASS_UNITS } from '../units.ts';
import { cornerLiveSchema, STILLNESS } from './events.ts';
import { cornerSchema, CROSS_DIAGONALS, perCornerSchema } from './records.ts';

/** What a guest is sent, whole each time: the call, the four weights and the cross weight. */

const guestCallSchema = z.strictObject({
  corner: cornerSchema,
  way: z.enum(['up', 'down']),
  /** As the crew counts that adjuster: "¾ turn". */
  turns: z.string().min(1).max(40),
  /** As the loads tell it; null while they tell nothing. */
  progress: z
    .strictObject({
      verdict: z.enum(CALL_VERDICTS),
      /** Turns seen over turns called: 0 at the start, 1 at the target, below 0 the wrong way. */
      share: z.number(),
      /** What to do, in a few words. */
      said: z.string().max(80),
    })
    .nullable(),
});
export type GuestCall = z.infer<typeof guestCallSchema>;

const guestCornerSchema = cornerLiveSchema.omit({ t: true, kg: true, calibrated: true });
export type GuestCorner = z.infer<typeof guestCornerSchema>;

export const guestViewSchema = z.strictObject({
  /** Host monotonic time at which it was made, s. */
  t: z.number(),
  isPractice: z.boolean(),
  /** All pads that are heard are used with a calibration. */
  isCalibrated: z.boolean(),
  unit: z.enum(MASS_UNITS),
  labels: z.enum(CORNER_LABEL_STYLES),
  call: guestCallSchema.nullable(),
  /** kg. */
  corners: perCornerSchema(guestCornerSchema),
  stillness: z.enum(STILLNESS).nullable(),
  cross: z.strictObject({
    diagonal: z.enum(CROSS_DIAGONALS),
    /** Fraction with its standard uncertainty, 0 while the car moves; null while a corner is not live. */
    share: z.strictObject({ value: z.number(), u: z.number().nonnegative() }).nullable(),
  }),
});
export type GuestView = z.infer<typeof guestViewSchema>;

/** One view on its way; the guest answers with nothing but its number, and then gets the next. */
export const guestPushSchema = z.strictObject({
  no: z.number().int().positive(),
  view: guestViewSchema,
});
