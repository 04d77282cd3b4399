import { z } from 'zod';

/** A pad description tried on the bytes of one payload. */
export const trialShownSchema = z.strictObject({
  /** What is wrong with the description, by where in it; empty where it can be used. */
  problems: z.array(z.strictObject({ path: z.string(), what: z.string() })),
  /** What works less well with it. */
  notices: z.array(z.string()),
  /** Null without bytes, or where the description cannot be used. */
  payload: z
    .strictObject({
      /** Why the payload is refused; null where it is accepted. */
      why: z.string().nullable(),
      pieces: z.array(
        z.strictObject({
          from: z.number().int(),
          to: z.number().int(),
          hex: z.string(),
          field: z.string().nullable(),
          value: z.string().nullable(),
        }),
      ),
      /** Loads as decoded, with their unit. */
      loads: z.array(z.string()),
    })
    .nullable(),
});
export type TrialShown = z.infer<typeof trialShownSchema>;
