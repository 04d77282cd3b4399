import { z } from 'zod';
import { LOAD_UNITS } from './exactScale.ts';
import { positiveFraction, printable, wholeNumber } from './scalars.ts';

/** The fields of a payload: each is some bytes at some place, with one meaning. */

const bit = wholeNumber(0, 31);
const bits = z.array(bit).min(1).max(8);

/** Bits of an earlier `bits` field, lowest first, read as a number that must be `is`. */
const conditionSchema = z.strictObject({
  field: printable(1, 40),
  bits,
  is: wholeNumber(0, 255).default(1),
});
export type Condition = z.output<typeof conditionSchema>;

const named = { name: printable(1, 40) };

const place = {
  ...named,
  /** Offset from the start, or from the end where it is negative; left out, after the field before. */
  at: wholeNumber(-512, 511).optional(),
  /** Present only when this holds. */
  when: conditionSchema.optional(),
};

const number = {
  ...place,
  width: wholeNumber(1, 4),
  endian: z.enum(['little', 'big']).optional(),
};

/** Bits that say something of the whole payload. */
const STATUS_FLAGS = ['overload', 'saturated', 'lowBattery', 'restarted'] as const;

const bitsField = z.strictObject({
  is: z.literal('bits'),
  ...number,
  /** Bits that must be zero: a payload in which one is set is refused whole. */
  zero: z.array(bit).max(32).optional(),
  status: z
    .array(z.strictObject({ bit, flag: z.enum(STATUS_FLAGS), is: wholeNumber(0, 1).default(1) }))
    .max(32)
    .optional(),
  /** Bits, lowest first, that pick the sample rate, Hz; null is a code that is refused. */
  rate: z
    .strictObject({
      bits,
      values: z.array(z.number().min(0.1).max(4000).nullable()).min(2).max(256),
    })
    .optional(),
});

const loadField = z.strictObject({
  is: z.literal('load'),
  ...number,
  signed: z.boolean(),
  /** One unit, or several of which conditions pick one. `scale` is one step in the unit. */
  units: z
    .array(
      z.strictObject({
        unit: z.enum(LOAD_UNITS),
        scale: positiveFraction.optional(),
        when: conditionSchema.optional(),
      }),
    )
    .min(1)
    .max(8),
  /** Numbers that are no load. */
  sentinels: z
    .array(
      z.strictObject({
        value: wholeNumber(-0x80000000, 0xffffffff),
        means: z.enum(['overload', 'saturated', 'no reading']),
      }),
    )
    .max(8)
    .optional(),
  /** How many samples follow each other, oldest first; the payload's length says how many there are. */
  repeat: z.strictObject({ least: wholeNumber(1, 32), most: wholeNumber(1, 32) }).optional(),
});

const sequenceField = z.strictObject({ is: z.literal('sequence'), ...number });
const clockField = z.strictObject({ is: z.literal('clock'), ...number });

const constantField = z.strictObject({
  is: z.literal('constant'),
  ...number,
  value: wholeNumber(0, 0xffffffff),
});

const checkField = z.strictObject({
  is: z.literal('check'),
  ...number,
  method: z.enum(['xor', 'sum']),
  /** Bytes it goes over, from (counted in) to (not counted in); negative from the end. */
  from: wholeNumber(-512, 511),
  to: wholeNumber(-512, 512),
  /** Whether the two's complement of the result is sent. */
  negated: z.boolean().optional(),
  /** Put on the result by exclusive or at the end. */
  xor: wholeNumber(0, 0xffff).default(0),
});

const otherField = z.strictObject({
  is: z.literal('other'),
  ...number,
  width: wholeNumber(1, 64),
  signed: z.boolean().optional(),
  /** Ranges, both ends counted in, one of which its number must be in. */
  allowed: z
    .array(z.tuple([wholeNumber(-0x80000000, 0xffffffff), wholeNumber(-0x80000000, 0xffffffff)]))
    .min(1)
    .max(16)
    .optional(),
});

export const fieldSchema = z.discriminatedUnion('is', [
  loadField,
  bitsField,
  sequenceField,
  clockField,
  constantField,
  checkField,
  otherField,
]);

const ratedLoadField = z.strictObject({
  is: z.literal('rated load'),
  ...number,
  unit: z.enum(['kg', 'g', 'lb', 'N']),
  scale: positiveFraction,
});
const ratedCountsField = z.strictObject({
  is: z.literal('rated counts'),
  ...number,
  signed: z.boolean(),
});

export const ratingFieldSchema = z.discriminatedUnion('is', [
  ratedLoadField,
  ratedCountsField,
  bitsField,
  constantField,
  checkField,
  otherField,
]);

export type DescribedField = z.output<typeof fieldSchema> | z.output<typeof ratingFieldSchema>;
export type LoadField = z.output<typeof loadField>;
export type CheckField = z.output<typeof checkField>;
export type OtherField = z.output<typeof otherField>;
