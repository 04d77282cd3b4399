import { z } from 'zod';
import { CROSS_DIAGONALS, perCornerSchema } from '../contract/records.ts';
import { itemIdSchema, partIdSchema } from './itemId.ts';

/**
 * What the set-up of a car needs beyond its balance. It hangs on the car as one field that may be null,
 * filled with null when an older car is read: every stored car stays readable, and the version of the
 * car that a capture names holds all that was known of it then. Unknown is null, never zero.
 *
 * Axes: x forward from the front axle (behind it negative), y left, z up from the ground; metre.
 */

const positive = z.number().positive();
/** What rules could ask for of any quantity, SI: what no unit makes endless. */
const limit = z.number().min(-1e9).max(1e9);
const name = z.string().trim().min(1).max(60);
const x = z.number().min(-15).max(5);
const y = z.number().min(-3).max(3);
const height = z.number().min(0).max(3);
const stated = { value: positive, u: z.number().nonnegative() };

/** What sets the height of one corner's spring seat. Up raises the body. */
export const adjusterSchema = z.strictObject({
  kind: z.enum(['perch', 'push-rod', 'shims']),
  /** Metre per turn of each thread, which add (a push-rod has two); of shims the thickness of one. */
  pitches: z.array(positive.max(0.02)).min(1).max(2),
  /** Travel where the adjuster is over wheel travel; null: the car's motion ratio of the corner. */
  motionRatio: positive.max(5).nullable(),
  /** Steps in one turn: 1 whole turns, 6 hex flats, its clicks; 1 for shims. */
  stepsPerTurn: z.number().int().min(1).max(400),
  countedIn: z.enum(['turns', 'flats', 'clicks', 'shims']),
  /** Whether it can be turned while the car stands on it. */
  underLoad: z.boolean(),
  /** Whole steps left in each direction; null where nobody has said. */
  room: z
    .strictObject({ up: z.number().int().nonnegative(), down: z.number().int().nonnegative() })
    .nullable(),
});
export type CarAdjuster = z.infer<typeof adjusterSchema>;

const barSchema = z.strictObject({
  /** From the bar's axis to the drop link, metre. */
  dropLinkLever: positive.max(1).nullable(),
  /** Metre of drop-link length per turn, both threads together. */
  dropLinkPitch: positive.max(0.02).nullable(),
  /** Travel of the drop link over wheel travel. */
  dropLinkRatio: positive.max(5).nullable(),
});

/** A mark on the car from which a ride height is measured. */
const heightPointSchema = z.strictObject({
  id: partIdSchema,
  name,
  x,
  y,
  /** How far it lies above the body's own reference plane; 0 on a flat floor. */
  above: z.number().min(-1).max(1),
});
export type HeightPoint = z.infer<typeof heightPointSchema>;

const setUpWheelSchema = z.strictObject({
  radius: z.strictObject({ ...stated, value: positive.max(1) }),
  /** Between the edges at which toe and camber are read, metre. */
  measuringDiameter: positive.max(1.5),
});

/** A tyre under load, cold. */
const tyreSchema = z.strictObject({
  loadedRadius: z.strictObject({ ...stated, value: positive.max(1) }),
  /** Gauge pressure, Pa. */
  pressure: z.number().min(0).max(1e6),
  /** Newton on the tyre. */
  load: positive.max(5e4),
  /** Newton per metre, and metre of radius per pascal; null where they were not measured. */
  verticalRate: z.strictObject(stated).nullable(),
  perPressure: z.strictObject({ ...stated, value: z.number() }).nullable(),
  /** Of the rim, metre. */
  measuringDiameter: positive.max(1.5),
});

const ballastPlaceSchema = z.strictObject({
  id: partIdSchema,
  name,
  x,
  y,
  z: height,
  /** Mass that must and that may be there, kg; null is no limit. */
  least: z.number().min(0).max(500).nullable(),
  most: z.number().min(0).max(500).nullable(),
});
export type BallastPlace = z.infer<typeof ballastPlaceSchema>;

const fuelTankSchema = z.strictObject({
  x,
  y,
  /** m³. */
  capacity: positive.max(1),
  /** kg/m³. */
  density: z.number().min(300).max(1200),
});

/** What the rules allow an item to be, SI; null is no limit that way. */
const ruleLimitSchema = z
  .strictObject({ item: itemIdSchema, least: limit.nullable(), most: limit.nullable() })
  .refine(({ least, most }) => least === null || most === null || least <= most, {
    message: 'the least allowed is above the most',
  });
export type RuleLimit = z.infer<typeof ruleLimitSchema>;

const unlike =
  <T>(key: (each: T) => string) =>
  (all: readonly T[]): boolean =>
    new Set(all.map(key)).size === all.length;
const twice = (what: string) => ({ message: `two ${what} have the same id` });

export const carDetailsSchema = z.strictObject({
  /** Null at a corner: not known. */
  adjusters: perCornerSchema(adjusterSchema.nullable()),
  bars: z.strictObject({ front: barSchema.nullable(), rear: barSchema.nullable() }),
  heightPoints: z
    .array(heightPointSchema)
    .max(24)
    .refine(
      unlike(({ id }: HeightPoint) => id),
      twice('reference points'),
    ),
  setUpWheels: perCornerSchema(setUpWheelSchema).nullable(),
  tyres: perCornerSchema(tyreSchema).nullable(),
  ballastPlaces: z
    .array(ballastPlaceSchema)
    .max(24)
    .refine(
      unlike(({ id }: BallastPlace) => id),
      twice('ballast places'),
    ),
  fuelTank: fuelTankSchema.nullable(),
  driverPlace: z.strictObject({ x, y }).nullable(),
  ruleLimits: z
    .array(ruleLimitSchema)
    .max(200)
    .refine(
      unlike(({ item }: RuleLimit) => item),
      twice('rule limits'),
    ),
  /** The diagonal this car's people call cross weight; null: as the settings have it. */
  cross: z.enum(CROSS_DIAGONALS).nullable(),
});
export type CarDetails = z.infer<typeof carDetailsSchema>;
