import type { Adjusters } from '../adjust/adjuster.ts';
import { perCorner } from '../corners.ts';
import type { Car } from './car.ts';

/** The adjusters of a car as a plan of turns takes them; null at a corner of which nothing is known. */
export const adjustersOf = (car: Car): Adjusters =>
  perCorner((corner) => {
    const adjuster = car.details?.adjusters[corner] ?? null;
    return (
      adjuster && {
        ...adjuster,
        corner,
        motionRatio: adjuster.motionRatio ?? car.motionRatios[corner],
      }
    );
  });
