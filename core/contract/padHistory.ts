import { z } from 'zod';
import { CHART_RULES, type ChartRule } from '../season/chartRules.ts';
import { calibrationRecordSchema } from './calibrationRecord.ts';

/** What is known of one pad over the seasons. */

const CHART_RULE_NAMES = Object.keys(CHART_RULES) as [ChartRule, ...ChartRule[]];

const limitsSchema = z.strictObject({ centre: z.number(), lower: z.number(), upper: z.number() });

/** One series of a pad with its control charts. Zero in newton, span relative, noise as ln newton. */
const seriesShownSchema = z.strictObject({
  kind: z.enum(['zero', 'span check', 'noise']),
  of: z.string(),
  values: z.array(
    z.strictObject({
      /** Wall-clock label, s. */
      at: z.number(),
      value: z.number(),
      /** Weighted average with its limits; null while there are none. */
      average: z.number().nullable(),
      averageLimits: limitsSchema.nullable(),
    }),
  ),
  limits: limitsSchema.nullable(),
  /** Why there are no limits yet; null where there are. */
  withoutLimits: z.string().nullable(),
  isProvisional: z.boolean(),
  signals: z.array(
    z.strictObject({
      rule: z.enum(CHART_RULE_NAMES),
      from: z.number().int(),
      to: z.number().int(),
    }),
  ),
  steps: z.array(z.number().int()),
  /** Null while it cannot be judged. */
  inControl: z.boolean().nullable(),
});
export type SeriesShown = z.infer<typeof seriesShownSchema>;

const offCentreShownSchema = z.strictObject({
  testId: z.string(),
  at: z.number(),
  mass: z.number(),
  distance: z.number(),
  /** Places not read yet. */
  missing: z.array(z.string()),
  /** Mean of each place less that of the middle, kg; empty until all are read. */
  places: z.array(z.strictObject({ place: z.string(), difference: z.number(), u: z.number() })),
  largest: z.number().nullable(),
  isSeen: z.boolean(),
  drift: z.number().nullable(),
  /** kg per metre as the load moves ahead and to the left. */
  perMetre: z.strictObject({ ahead: z.number(), left: z.number() }).nullable(),
});
export type OffCentreShown = z.infer<typeof offCentreShownSchema>;

export const padHistorySchema = z.strictObject({
  padSerial: z.string(),
  /** Newest first. */
  calibrations: z.array(calibrationRecordSchema),
  inUse: z.string().nullable(),
  checks: z.array(
    z.strictObject({
      at: z.number(),
      placeName: z.string(),
      mass: z.number(),
      relative: z.number(),
      u: z.number(),
      difference: z.number(),
      state: z.enum(['same', 'moved', 'cannot tell']),
    }),
  ),
  offCentre: z.array(offCentreShownSchema),
  series: z.array(seriesShownSchema),
  /** Sentences: warm-up, effect of temperature on zero and span, drift of the span. */
  findings: z.array(z.string()),
});
export type PadHistory = z.infer<typeof padHistorySchema>;
