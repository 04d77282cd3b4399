import { z } from 'zod';
import { carDetailsSchema } from './carDetails.ts';
import { EXAMPLE_CAR_DETAILS } from './exampleCarDetails.ts';

/**
 * The car as the computations need it. Lengths in metre, rates in newton per metre at the wheel,
 * stiffness in newton metre per radian.
 */

const positive = z.number().positive().finite();
const cornerValues = z.strictObject({ LF: positive, RF: positive, LR: positive, RR: positive });

export const carSchema = z.strictObject({
  id: z.string().min(1),
  name: z.string().trim().min(1).max(80),
  wheelbase: positive.max(10),
  trackFront: positive.max(5),
  trackRear: positive.max(5),
  /** Height of the centre of gravity over the pads; null while it was not measured. */
  cgHeight: positive.max(3).nullable(),
  /** Vertical rate at each wheel, spring through motion ratio, bars off. */
  wheelRates: cornerValues,
  /** Anti-roll bars: force at each wheel per metre of opposite travel, wheel to wheel; 0 is none. */
  barFront: z.number().nonnegative().finite(),
  barRear: z.number().nonnegative().finite(),
  /** Torsional stiffness of the chassis between the axles; null is taken as rigid. */
  chassisStiffness: positive.nullable(),
  /** Thread pitch of the spring perches: metre per turn. */
  perchPitch: positive.max(0.02),
  /** Spring travel over wheel travel. */
  motionRatios: cornerValues,
  /** What its set-up needs; null while nobody has entered it, as in every car stored before. */
  details: carDetailsSchema.nullable().default(null),
});

export type Car = z.infer<typeof carSchema>;

/** The invented car of the demonstration: every number made up. */
export const EXAMPLE_CAR: Car = {
  id: '0190a0c0-0000-7000-8000-000000000001',
  name: 'Heron R2',
  wheelbase: 2.7,
  trackFront: 1.68,
  trackRear: 1.65,
  cgHeight: 0.43,
  wheelRates: { LF: 180e3, RF: 180e3, LR: 165e3, RR: 165e3 },
  barFront: 60e3,
  barRear: 0,
  chassisStiffness: null,
  perchPitch: 0.0015,
  motionRatios: { LF: 0.95, RF: 0.95, LR: 0.9, RR: 0.9 },
  details: EXAMPLE_CAR_DETAILS,
};

/** Mass and centre of gravity of the invented car: what the practice rig builds, never a measurement. */
export const EXAMPLE_CAR_MASS = { mass: 1305, frontShare: 0.475, cgLeft: 0.006 } as const;
