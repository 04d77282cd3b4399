import { z } from 'zod';
import { measuredSchema } from './records.ts';

/** A study of repeated lowerings of the unchanged car, as it is shown. */

const componentSchema = z
  .strictObject({
    /** Standard deviation, in the unit of the quantity; 0 where the estimate is not above zero. */
    sd: z.number().nonnegative(),
    /** 95 % interval; null where it is not bounded. */
    lower: z.number().nonnegative(),
    upper: z.number().nonnegative().nullable(),
  })
  .nullable();

export const STUDY_QUANTITIES = [
  'LF',
  'RF',
  'LR',
  'RR',
  'total',
  'front',
  'left',
  'cross',
] as const;

export const studyShownSchema = z.strictObject({
  studyId: z.string(),
  lowerings: z.array(
    z.strictObject({
      captureId: z.string(),
      number: z.number().int(),
      person: z.string(),
      laying: z.number().int(),
      pads: z.array(z.string()).length(4),
    }),
  ),
  /** Empty until a lowering was repeated. Weights in kg, shares as fractions. */
  quantities: z.array(
    z.strictObject({
      of: z.enum(STUDY_QUANTITIES),
      repeatability: componentSchema,
      person: componentSchema,
      laying: componentSchema,
      intermediate: componentSchema,
    }),
  ),
  /** Bias of each pad against the mean of its group, kg; null where it is not told from the car. */
  biases: z.array(z.strictObject({ padSerial: z.string(), bias: measuredSchema.nullable() })),
  /** What these lowerings cannot tell, in words. */
  notTold: z.array(z.string()),
});
export type StudyShown = z.infer<typeof studyShownSchema>;
