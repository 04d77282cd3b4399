import { z } from 'zod';
import { fieldSchema, ratingFieldSchema } from './fieldSchema.ts';
import { hexBytes, positiveFraction, printable, uuid, wholeNumber } from './scalars.ts';

/**
 * The form of a pad description, version 1: what may stand where. `padDescription.md` says the same
 * to people. Whether the parts fit each other is looked at afterwards (`payloadPlan.ts`).
 */

export const DESCRIPTION_FORMAT = 'millpond-pad-description';
/** Longest text that is read, characters: ten times what a full description takes. */
export const LONGEST_TEXT = 65_536;

const characteristic = { service: uuid, characteristic: uuid };

const payloadSchema = z.strictObject({
  /** Order of bytes where a field does not say its own. */
  endian: z.enum(['little', 'big']),
  /** Lengths that are accepted, bytes; left out, exactly what the fields take. */
  lengths: z.array(wholeNumber(1, 512)).min(1).max(64).optional(),
  /** Samples a second where the payload does not say. */
  rate: z.number().min(0.1).max(4000).optional(),
  fields: z.array(fieldSchema).min(1).max(64),
});

const ratingSchema = z.discriminatedUnion('from', [
  z.strictObject({
    from: z.literal('fixed'),
    /** The mass that makes the rated load under standard gravity, kg. */
    ratedLoad: positiveFraction,
    /** What it adds to the zero; only where loads are sent as counts. */
    counts: wholeNumber(1, 0x7fffffff).optional(),
  }),
  z.strictObject({
    from: z.literal('read'),
    ...characteristic,
    endian: z.enum(['little', 'big']),
    fields: z.array(ratingFieldSchema).min(1).max(16),
  }),
  z.strictObject({ from: z.literal('unknown') }),
]);

const commandsSchema = z.strictObject({
  ...characteristic,
  setRate: z
    .array(z.strictObject({ rate: z.number().min(0.1).max(4000), write: hexBytes }))
    .min(1)
    .max(16)
    .optional(),
  /** The bytes, then the seconds as one byte where `seconds` is true. */
  identify: z.strictObject({ write: hexBytes, seconds: z.boolean() }).optional(),
  resetClock: hexBytes.optional(),
});

export const descriptionSchema = z.strictObject({
  format: z.literal(DESCRIPTION_FORMAT),
  version: z.literal(1),
  name: z
    .string()
    .regex(
      /^[a-z][a-z0-9-]{1,39}$/,
      'write 2 to 40 lower-case letters, digits and dashes, a letter first',
    ),
  title: printable(4, 80),
  recognise: z.strictObject({
    /** Any one of them, advertised, is enough. */
    services: z.array(uuid).max(8),
    /** First bytes of the manufacturer data, for a device that only advertises. */
    manufacturer: z.strictObject({ startsWith: hexBytes }).optional(),
  }),
  stream: z.discriminatedUnion('by', [
    z.strictObject({ by: z.literal('notify'), ...characteristic }),
    z.strictObject({ by: z.literal('indicate'), ...characteristic }),
    z.strictObject({ by: z.literal('advertisement') }),
  ]),
  /** Written with response, in this order, each within the deadline of any write. */
  start: z
    .array(
      z.strictObject({
        ...characteristic,
        write: hexBytes,
        when: z.enum(['before stream', 'after stream']),
      }),
    )
    .max(8)
    .optional(),
  /** Whether an untouched pad always shows noise: then a number that stands still is a fault. */
  noisy: z.boolean(),
  /** Silence after which the link is made anew, s. */
  silentAfter: z.number().min(1).max(600),
  rating: ratingSchema,
  payload: payloadSchema,
  commands: commandsSchema.optional(),
});

/** A description as it is kept: UUIDs short, numbers as numbers, scales as text. */
export type PadDescription = z.output<typeof descriptionSchema>;
export type DescribedPayload = PadDescription['payload'];
export type DescribedRating = PadDescription['rating'];
