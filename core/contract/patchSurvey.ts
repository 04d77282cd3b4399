import { z } from 'zod';
import { dofSchema } from '../sheet/dof.ts';
import { cornerSchema, perCornerSchema } from './records.ts';

/** A survey of the flat patch as it is kept: what was read, with what, and the pads' feet. */

const id = z.string().min(1).max(64);
const finite = z.number().finite();
const notBelowZero = finite.nonnegative();

const levelSurveySchema = z.strictObject({
  points: z
    .array(z.strictObject({ id, pad: cornerSchema.nullable(), x: finite, y: finite }))
    .min(1)
    .max(100),
  setUps: z
    .array(z.strictObject({ id, place: z.strictObject({ x: finite, y: finite }).nullable() }))
    .min(1)
    .max(20),
  sights: z.array(z.strictObject({ setUp: id, point: id, reading: finite.nullable() })).max(2000),
  instrument: z.strictObject({
    reads: z.enum(['staff', 'height']),
    staffLength: notBelowZero.nullable(),
    step: notBelowZero,
    cone: z.union([notBelowZero, z.literal('unknown')]).nullable(),
    tilt: notBelowZero.nullable(),
  }),
  sightScatter: z
    .strictObject({
      sd: z.number().positive(),
      dof: dofSchema,
    })
    .nullable(),
});

const footSchema = z.strictObject({
  name: z.string().min(1).max(20),
  x: finite,
  y: finite,
  pitch: z.number().positive().max(0.02),
  up: notBelowZero,
  down: notBelowZero,
});

export const patchSurveySchema = z.strictObject({
  survey: levelSurveySchema,
  /** Alike for all pads. */
  feet: z.array(footSchema).min(3).max(4),
  packers: z.array(z.number().positive().max(0.2)).max(20),
  /** Part of a turn that people make. */
  step: z.number().positive().max(1),
  onlyUpward: z.boolean(),
  /** Screws done since it was read, by pad and foot. */
  done: z.array(z.strictObject({ pad: cornerSchema, foot: z.string() })).max(16),
  venueId: z.string().nullable(),
  carId: z.string(),
  /** Read with the car on the pads. */
  isWithCar: z.boolean(),
  note: z.string().max(400),
});
export type PatchSurvey = z.infer<typeof patchSurveySchema>;

/** Heights of the staff's foot over the pads of the practice rig, as they are read. */
export const practiceStaffSchema = perCornerSchema(z.array(finite));
