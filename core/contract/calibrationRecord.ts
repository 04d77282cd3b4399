import { z } from 'zod';
import { ACCURACY_CLASSES } from '../calibration/errorLimits.ts';
import { massSetSchema } from '../sheet/massSet.ts';
import { measuredSchema } from './records.ts';

/** The record of a calibration: what was seen, what was made of it, and what was found against it. */

const positive = z.number().positive().finite();
const whole = z.number().int().positive();

/** One settled average, as it was taken: nothing computed is in it. */
export const takenPointSchema = z.strictObject({
  /** In the order of taking, from 1. */
  number: whole,
  padSerial: z.string().min(1),
  /** Seconds since the calibration began. */
  at: z.number().nonnegative(),
  /** Masses that stood on the pad, by id; none is nothing, or a point of a transfer. */
  massIds: z.array(z.string().min(1)),
  /** Force by the pad in series, newton over its zero, its scatter only; null with masses. */
  reference: measuredSchema.nullable(),
  /** Mean counts as sent: the zero is not taken off. */
  counts: measuredSchema,
  /** Sum of SAMPLE_FLAGS seen within the average. */
  flags: z.number().int().nonnegative(),
  temperature: z.number().nullable(),
  /** False where what stands there was only read again: creep. */
  placedAnew: z.boolean(),
  /** Pad on which load appeared instead, by its serial number; null where none was seen to. */
  risenElsewhere: z.string().min(1).nullable(),
  undone: z.boolean(),
});
export type TakenPoint = z.infer<typeof takenPointSchema>;

const LEFT_OUT = ['other pad', 'saturated', 'overloaded', 'elsewhere', 'read again'] as const;
export type LeftOut = (typeof LEFT_OUT)[number];

/** What was made of a point. */
const pointResultSchema = z.strictObject({
  number: whole,
  /** Force applied, newton. */
  applied: z.number(),
  cycle: whole,
  side: z.enum(['up', 'down']),
  /** Error of the indication by the curve over the zero of the cycle, kg; null without a curve. */
  error: z.number().nullable(),
  /** What the fit leaves of the point, newton; null where it is not in the fit. */
  residual: z.number().nullable(),
  /** Why it is not in the fit; null where it is. */
  leftOut: z.enum(LEFT_OUT).nullable(),
});
export type PointResult = z.infer<typeof pointResultSchema>;

/** A characteristic at the load where it is worst, kg; null where the points do not show it. */
const worstSchema = z.strictObject({ value: z.number(), load: z.number() }).nullable();

const characteristicsSchema = z.strictObject({
  nonlinearity: worstSchema,
  hysteresis: worstSchema,
  /** Largest range of one load from one side, and the pooled standard deviation with its dof. */
  repeatability: z
    .strictObject({
      range: z.number().nonnegative(),
      load: z.number(),
      sd: z.number().nonnegative(),
      dof: whole,
    })
    .nullable(),
  /** Zero after the load less zero before, the worst cycle's. */
  zeroReturn: worstSchema,
  /** Change under the largest load that was left on, over so many seconds. */
  creep: z
    .strictObject({
      change: z.number(),
      load: z.number(),
      seconds: positive,
      /** Change between 15 and 30 minutes after placing; null where it was not read then. */
      late: z.number().nullable(),
    })
    .nullable(),
});
export type Characteristics = z.infer<typeof characteristicsSchema>;

/** Limits that a calibration is held against; kg. */
export const limitsSchema = z.discriminatedUnion('is', [
  z.strictObject({
    is: z.literal('class'),
    accuracy: z.enum(ACCURACY_CLASSES),
    interval: positive,
    when: z.enum(['first verification', 'in service']),
  }),
  /** Own limits: so much, and so much of the load. */
  z
    .strictObject({
      is: z.literal('own'),
      fixed: z.number().nonnegative().finite(),
      share: z.number().min(0).max(1),
    })
    .refine(({ fixed, share }) => fixed > 0 || share > 0, { message: 'a limit of nothing' }),
]);
export type Limits = z.infer<typeof limitsSchema>;

const TESTS = ['errors', 'repeatability', 'zero return', 'creep', 'masses', 'intervals'] as const;

const verdictSchema = z.strictObject({
  against: limitsSchema,
  /** Outside as soon as one test is; cannot tell where what decides was not seen. */
  outcome: z.enum(['within', 'outside', 'cannot tell']),
  tests: z.array(
    z.strictObject({
      test: z.enum(TESTS),
      /** The worst seen, its limit and the load it was at, kg; null where it was not seen. */
      worst: z.number().nullable(),
      limit: z.number().nullable(),
      load: z.number().nullable(),
      outcome: z.enum(['within', 'outside', 'not seen']),
    }),
  ),
});
export type Verdict = z.infer<typeof verdictSchema>;

const FINDING_CODES = [
  'changed midway',
  'few loads',
  'inverse',
  'lack of fit',
  'lone point',
  'low top',
  'masses unknown',
  'no curve',
  'no repeats',
  'no zero',
  'not monotone',
  'one way',
  'other pad',
  'out of order',
  'overloaded',
  'elsewhere',
  'rating',
  'residual',
  'saturated',
  'stuck',
  'wrong unit',
  'zero moved',
] as const;

/** Something found about a calibration, in words. */
const findingSchema = z.strictObject({
  code: z.enum(FINDING_CODES),
  /** Refuses: not for use unless a reason is written beside it. Warns: usable and marked. */
  weight: z.enum(['refuses', 'warns', 'notes']),
  what: z.string().min(1),
  why: z.string().min(1),
  next: z.string().min(1),
  /** Points it is about, by number. */
  points: z.array(whole),
});
export type Finding = z.infer<typeof findingSchema>;

const fitSchema = z.strictObject({
  degree: z.union([z.literal(1), z.literal(2), z.literal(3)]),
  /** Counts over zero: the k-th entry, from k = 0, per newton^(k+1). */
  coefficients: z.array(z.number()).min(1).max(3),
  covariance: z.array(z.array(z.number())),
  /** Counts. */
  residualSd: z.number().nonnegative(),
  dof: z.number().positive(),
  rSquared: z.number(),
  /** Counts of each taking of the zero, as the fit has it. */
  zeros: z.array(z.number()),
  evidence: z.strictObject({
    kind: z.enum(['lack of fit', 'highest coefficient']),
    p: z.number(),
    remains: z.boolean(),
  }),
  /** Force, newton, up to which points reach. */
  top: positive,
  /** Largest difference between the curve in use and the exact inverse of the fit, newton. */
  inverseError: z.number().nonnegative(),
});

export const CALIBRATION_KINDS = ['masses', 'transfer', 'rating'] as const;

/**
 * Versioned: version 1. Records are only added; a later calibration of the pad names the one it
 * replaces, and captures keep the one they were made with.
 */
export const calibrationRecordSchema = z.strictObject({
  version: z.literal(1),
  id: z.string().min(1),
  replaces: z.string().min(1).nullable(),
  padSerial: z.string().min(1),
  kind: z.enum(CALIBRATION_KINDS),
  /** Wall-clock label, milliseconds since 1970 UTC. */
  madeAt: z.number().int(),
  practice: z.boolean(),
  /** Where it was made: its gravity is in the span. For transfer and rating it is only a label. */
  place: z.strictObject({ venueId: z.string().nullable(), name: z.string(), gravity: positive }),
  /** Rated load, kg, and the counts of it by the maker's rating; null where the pad does not say. */
  rating: z.strictObject({ ratedLoad: positive, countsAtRatedLoad: z.number() }).nullable(),
  masses: massSetSchema.nullable(),
  /** The pad in series: its calibration and what its span is uncertain by, as a share. */
  reference: z
    .strictObject({
      padSerial: z.string().min(1),
      calibrationId: z.string().min(1),
      uRelative: z.number().nonnegative().nullable(),
    })
    .nullable(),
  points: z.array(takenPointSchema),
  results: z.array(pointResultSchema),
  fit: fitSchema.nullable(),
  /** As used: newton per count^(k+1); null where nothing can be made of the points. */
  coefficients: z.array(z.number()).min(1).max(3).nullable(),
  /** Relative standard uncertainty of the applied forces, common to all points; null: not known. */
  uApplied: z.number().nonnegative().nullable(),
  characteristics: characteristicsSchema.nullable(),
  findings: z.array(findingSchema),
  verdict: verdictSchema.nullable(),
  /** Written reason for its use in spite of what was found; null where there is none. */
  inSpiteOf: z.string().trim().min(1).max(400).nullable(),
});
export type CalibrationRecord = z.infer<typeof calibrationRecordSchema>;
