import { z } from 'zod';
import { dofSchema } from '../sheet/dof.ts';
import { cornerSchema, CROSS_DIAGONALS, measuredSchema, perCornerSchema } from './records.ts';

/** A live adjustment as it is kept: from where, to what, the calls made and what the pads said. */

const finite = z.number().finite();
const positive = finite.positive();
const four = z.tuple([finite, finite, finite, finite]).readonly();
const goal = z.strictObject({ target: finite, tolerance: positive });
/** To reach, or to keep as it is within its tolerance. */
const goalOrKeep = z.strictObject({
  target: z.union([finite, z.literal('keep')]),
  tolerance: positive,
});

const adjustReadingSchema = z.strictObject({
  /** Newton and N², in the order LF, RF, LR, RR. */
  loads: z.strictObject({
    values: four,
    covariance: z.array(finite).length(16).readonly(),
    dof: z.tuple([dofSchema, dofSchema, dofSchema, dofSchema]).readonly(),
  }),
  gravity: positive,
  /** Metre, in the order of the heights of the targets; null where not measured this time. */
  heights: z.array(measuredSchema.nullable()).max(24).readonly(),
  settled: z.enum(['bounced', 'as it came']),
});

const targetsSchema = z.strictObject({
  diagonal: z.enum(CROSS_DIAGONALS),
  cross: goalOrKeep.nullable(),
  cornerWeights: perCornerSchema(goal.nullable()),
  heights: z
    .array(
      goalOrKeep.extend({
        point: z.strictObject({ name: z.string().min(1).max(60), x: finite, y: finite }),
      }),
    )
    .max(24)
    .readonly(),
  total: goal.nullable(),
  frontShare: goal.nullable(),
  leftShare: goal.nullable(),
});

const callSchema = z.strictObject({
  corner: cornerSchema,
  /** Whole steps, up positive. */
  steps: z.number().int(),
  turns: finite,
});

/** What was learnt of the car, and for which data: with others it is not used again. */
const learntSchema = z.strictObject({
  logFactors: z.array(finite).length(8).readonly(),
  covariance: z.array(finite).length(64).readonly(),
  sheetSeatPerTurn: perCornerSchema(positive.nullable()),
  wheelRates: perCornerSchema(positive),
});
export type LearntKept = z.infer<typeof learntSchema>;

export const PLAN_CHOICES = ['heights kept', 'fewest corners', 'one corner'] as const;
export type PlanChoice = (typeof PLAN_CHOICES)[number];

export const adjustmentSchema = z.strictObject({
  carId: z.string().min(1),
  targets: targetsSchema,
  bars: z.enum(['on', 'off']),
  /** Friction of a strut at the wheel, newton, taken alike at all corners. */
  friction: finite.nonnegative().max(2000),
  start: adjustReadingSchema,
  /** What earlier adjustments of the car had taught; null is its data alone. */
  prior: learntSchema.nullable(),
  /** Calls made between two readings; none where the pads were only read again. */
  rounds: z
    .array(
      z.strictObject({
        calls: z.array(callSchema).max(4).readonly(),
        /** Loads before the calls, newton. */
        before: four,
        after: adjustReadingSchema,
      }),
    )
    .max(100)
    .readonly(),
  choice: z.enum(PLAN_CHOICES),
  /** The crew's steps at work and where in them it is; null while nothing was called. */
  open: z
    .strictObject({
      steps: z
        .array(
          z.discriminatedUnion('do', [
            z.strictObject({ do: z.literal('turn'), call: callSchema }),
            z.strictObject({ do: z.enum(['raise', 'lower', 'settle', 'judge']) }),
          ]),
        )
        .min(1)
        .max(12)
        .readonly(),
      at: z.number().int().nonnegative(),
      settled: z.enum(['bounced', 'as it came']),
    })
    .nullable(),
  /** The response after all rounds; null before the first. */
  learnt: learntSchema.nullable(),
  isOver: z.boolean(),
});
export type Adjustment = z.infer<typeof adjustmentSchema>;
