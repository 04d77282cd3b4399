import { measured, type Measured } from '../measured.ts';
import { found, refused, type Outcome } from './outcome.ts';
import { weightedFit } from './weightedFit.ts';

/** Toe, or camber, of one wheel at one height. */
export interface TravelReading {
  /** Metre from ride height, bump (the wheel up) positive. */
  readonly travel: Measured;
  /** Rad, toe-in positive or camber. */
  readonly angle: Measured;
}

export interface ChangeWithTravel {
  /** Angle at ride height, rad. */
  readonly atRideHeight: Measured;
  /** Rad per metre at ride height. */
  readonly slope: Measured;
  /** Change of slope, rad per metre². */
  readonly curvature: Measured;
  /** Reading less curve, rad, in the order of the readings. */
  readonly residuals: readonly number[];
  /** Change of angle from ride height to a travel within the readings, rad. */
  readonly change: (travel: number) => Measured;
}

const NEEDED = 4;
/** A shorter sweep leaves the slope to the scatter. Common practice, no source. */
const LEAST_SWEEP = 0.01;

/**
 * Bump steer of one wheel: a parabola through toe against travel at four or more heights; the same for
 * camber. Uncertainty of the travel counts through the slope there (two passes of effective variance).
 */
export const bumpSteer = (readings: readonly TravelReading[]): Outcome<ChangeWithTravel> => {
  const travels = readings.map(({ travel }) => travel.value);
  const different = new Set(travels);
  if (different.size < NEEDED)
    return refused(
      `Bump steer takes readings at four heights or more; there are ${different.size}.`,
      'Measure at two heights above ride height and two below.',
    );
  if (Math.max(...travels) - Math.min(...travels) < LEAST_SWEEP)
    return refused(
      'The heights lie within ten millimetres of one another.',
      'Spread them over the travel the wheel uses, and look at their unit.',
    );
  if (readings.some(({ angle }) => !(angle.u > 0)))
    return refused('An angle has no uncertainty.', 'Give the one of the gauge or scale.');
  const rows = travels.map((z) => [1, z, z ** 2]);
  const fitWith = (slopeAt: (z: number) => number) =>
    weightedFit(
      rows,
      readings.map(({ travel, angle }) =>
        measured(
          angle.value,
          Math.hypot(angle.u, slopeAt(travel.value) * travel.u),
          Math.min(angle.dof, travel.u > 0 ? travel.dof : Infinity),
        ),
      ),
    );
  const first = fitWith(() => 0);
  const [, b = 0, c = 0] = first?.coefficients ?? [];
  const fit = fitWith((z) => b + 2 * c * z);
  if (!fit)
    return refused(
      'The heights do not tell slope and curvature apart.',
      'Spread them more evenly, above and below ride height.',
    );
  const warnings: string[] = [];
  if (!fit.agrees)
    warnings.push(
      `The readings scatter more than gauge and scale do about a smooth curve; the one at height ${worstOf(fit.residuals)} is furthest off. Measure it again.`,
    );
  if (Math.min(...travels) > 0 || Math.max(...travels) < 0)
    warnings.push('No reading on one side of ride height: what is said of it there is a guess.');
  return found(
    {
      atRideHeight: fit.estimate([1, 0, 0]),
      slope: fit.estimate([0, 1, 0]),
      curvature: fit.estimate([0, 0, 2]),
      residuals: fit.residuals,
      change: (travel) => fit.estimate([0, travel, travel ** 2]),
    },
    warnings,
  );
};

/** Number, from one, of the largest residual. */
const worstOf = (residuals: readonly number[]): number => {
  const sizes = residuals.map(Math.abs);
  return sizes.indexOf(Math.max(...sizes)) + 1;
};
