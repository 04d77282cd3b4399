import { z } from 'zod';
import { refused, type Outcome } from '../alignment/outcome.ts';
import { axleLift, type AxleLift } from '../balance/axleLift.ts';
import { measuredSchema } from '../contract/records.ts';
import { measured, type Measured } from '../measured.ts';
import type { Car } from './car.ts';
import { AXLES, type Axle } from './itemKinds.ts';

/** An axle lift as it is kept: told again with each reading, so that a look elsewhere loses nothing. */

const known = z.strictObject({ value: z.number().positive(), u: z.number().nonnegative() });

export const axleLiftSchema = z.strictObject({
  id: z.string().min(1).max(64),
  carId: z.string().min(1).max(64),
  /** Wall-clock label, ms. */
  begunAt: z.number().int(),
  /** The axle that is raised. */
  lifted: z.enum(AXLES),
  wheelbase: known,
  /** Of the wheels of the axle that stays down, and of the raised one; null while nobody has said. */
  radiusStanding: known.nullable(),
  radiusLifted: known.nullable(),
  /** The whole car with all wheels down, kg; null before it was weighed. */
  mass: measuredSchema.nullable(),
  suspensionLocked: z.boolean(),
  wheelsFree: z.boolean(),
  /** Standard uncertainty of a height, metre, and of a load that is typed, kg. */
  liftU: z.number().positive(),
  loadU: z.number().positive(),
  /** In the order in which they are taken: up, then down. A load not yet read is null. */
  readings: z
    .array(
      z.strictObject({
        going: z.enum(['up', 'down']),
        lift: z.number().nonnegative().max(3),
        load: measuredSchema.nullable(),
        liftedLoad: measuredSchema.nullable(),
      }),
    )
    .max(40),
});
export type AxleLiftKept = z.infer<typeof axleLiftSchema>;

/** All wheels down, then three heights up and down again, metre: the least that shows line and friction. */
const HEIGHTS = [0, 0.2, 0.4, 0.6];

/** Radius of the set-up wheels of an axle: the mean of both; null where the car has none. */
const radiusOf = ({ details }: Car, axle: Axle): { value: number; u: number } | null => {
  const wheels = details?.setUpWheels;
  if (!wheels) return null;
  const [left, right] = axle === 'front' ? [wheels.LF, wheels.RF] : [wheels.LR, wheels.RR];
  return {
    value: (left.radius.value + right.radius.value) / 2,
    u: Math.hypot(left.radius.u, right.radius.u) / 2,
  };
};

/** A lift that begins. A wheelbase is known to a millimetre or so; common practice, no source. */
export const beginAxleLift = (
  car: Car,
  about: Pick<AxleLiftKept, 'id' | 'begunAt' | 'lifted' | 'mass'>,
): AxleLiftKept => ({
  ...about,
  carId: car.id,
  wheelbase: { value: car.wheelbase, u: 0.001 },
  radiusStanding: radiusOf(car, about.lifted === 'front' ? 'rear' : 'front'),
  radiusLifted: radiusOf(car, about.lifted),
  suspensionLocked: false,
  wheelsFree: false,
  liftU: 0.001,
  loadU: 0.1,
  readings: [
    ...HEIGHTS.map((lift) => ({ going: 'up' as const, lift, load: null, liftedLoad: null })),
    ...HEIGHTS.toReversed()
      .slice(1)
      .map((lift) => ({ going: 'down' as const, lift, load: null, liftedLoad: null })),
  ],
});

const asMeasured = ({ value, u }: { value: number; u: number }): Measured =>
  measured(value, u, Infinity);

/** The height of the centre of gravity from the readings so far, or what is still missing. */
export const axleLiftResult = (kept: AxleLiftKept): Outcome<AxleLift> => {
  const { radiusStanding, radiusLifted, mass, liftU } = kept;
  if (!radiusStanding || !radiusLifted)
    return refused('The radii of the wheels are not known.', 'Type them here, or with the car.');
  if (!mass) return refused('The car is not weighed.', 'Weigh it with all wheels down.');
  const readings = kept.readings.flatMap(({ going, lift, load, liftedLoad }) =>
    load
      ? [{ going, lift: measured(lift, lift === 0 ? 0 : liftU, Infinity), load, liftedLoad }]
      : [],
  );
  if (readings.length < 2)
    return refused('There are not enough loads yet.', 'Read the next height.');
  return axleLift({
    wheelbase: asMeasured(kept.wheelbase),
    radiusStanding: asMeasured(radiusStanding),
    radiusLifted: asMeasured(radiusLifted),
    mass,
    readings,
    suspensionLocked: kept.suspensionLocked,
    wheelsFree: kept.wheelsFree,
  });
};
