import { statics, type StandingCar, type Supports } from '../adjust/statics.ts';
import { inOrder, perCorner, type PerCorner } from '../corners.ts';
import type { Measured } from '../measured.ts';
import { found, refused, tooUncertain, type Outcome } from './outcome.ts';
import { propagated } from './propagated.ts';

const LEVEL = perCorner(() => 0);

/**
 * Ride height on tyres from the one on set-up wheels, metre. Tyres whose loaded radii are larger lift
 * the wheel centres as so much more pad height, and the body follows as the statics of the car have it:
 * where the four differences do not lie in a plane, springs and bars share out the rest. The shift of
 * the centre of gravity, a hundredth of a millimetre here, is left out.
 */
export const rideHeightOnTyres = (input: {
  /** At the reference point (x, y), on set-up wheels. */
  readonly height: Measured;
  readonly x: number;
  readonly y: number;
  readonly setUpWheels: PerCorner<Measured>;
  /** Loaded radii at the pressure and load they will have. */
  readonly tyres: PerCorner<Measured>;
  readonly standing: StandingCar;
  readonly bars: Supports['bars'];
}): Outcome<Measured> => {
  const { height, x, y, setUpWheels, tyres, standing, bars } = input;
  const radii = [...inOrder(setUpWheels), ...inOrder(tyres)];
  if (!radii.every(({ value }) => value > 0.05 && value < 1))
    return refused(
      'A radius of a set-up wheel or tyre is not that of a wheel.',
      'Give radii, not diameters, and look at their unit.',
    );
  if (!(standing.mass > 0 && standing.frontShare > 0 && standing.frontShare < 1))
    return refused('The mass of the car or its front share is not one.', 'Weigh the car first.');
  const car = { ...standing.car, cgHeight: null };
  const onLevel = { ...standing, car };
  const base = statics(onLevel, { seats: LEVEL, pads: LEVEL, bars }).rise;
  const along = -x / car.wheelbase;
  const result = propagated([height, ...radii], ([own = 0, ...r]) => {
    const pads = perCorner((_, i) => (r[4 + i] as number) - (r[i] as number));
    const { rise } = statics(onLevel, { seats: LEVEL, pads, bars });
    const up = perCorner((corner) => rise[corner] - base[corner]);
    const front = (up.LF + up.RF) / 2 + ((up.LF - up.RF) * y) / car.trackFront;
    const rear = (up.LR + up.RR) / 2 + ((up.LR - up.RR) * y) / car.trackRear;
    return own + front * (1 - along) + rear * along;
  });
  if (!result) return tooUncertain;
  if (!(result.value > 0))
    return refused(
      'On these tyres the reference point would be on the ground.',
      'Look at the radii: which are the set-up wheels and which the tyres.',
    );
  return found(result);
};
