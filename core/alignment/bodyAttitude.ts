import type { Footprint } from '../balance/centreOfGravity.ts';
import { perCorner, type PerCorner } from '../corners.ts';
import { measured, type Measured } from '../measured.ts';
import { explainNotPlane, type NotPlane } from './notPlane.ts';
import { found, refused, type Outcome } from './outcome.ts';
import type { RideHeight } from './rideHeight.ts';
import { weightedFit } from './weightedFit.ts';

/** A reference point of the body and its ride height. Axes after ISO 8855, metre. */
export interface HeightPoint extends RideHeight {
  readonly name: string;
  readonly x: number;
  readonly y: number;
  /** How far the point lies above the body's own reference plane; 0 for a point on a flat floor. */
  readonly above: number;
}

export interface BodyAttitude {
  /** Height of the body's reference plane at the front axle on the centre line, metre. */
  readonly heave: Measured;
  /** Slopes, nose-down and left side up positive: the plane is heave − pitch·x + roll·y. */
  readonly pitch: Measured;
  readonly roll: Measured;
  /** Of heave, pitch and roll, row by row. */
  readonly covariance: readonly (readonly number[])[];
  /** Height of the reference plane over each wheel, metre. */
  readonly corners: PerCorner<Measured>;
  /** Rear over front height at the axles, metre, and as an angle, rad; positive nose-down. */
  readonly rake: { readonly length: Measured; readonly angle: Measured };
  readonly residuals: readonly { readonly name: string; readonly residual: number }[];
  /** What could be behind heights that are not in a plane; null where they are, or only three. */
  readonly notPlane: NotPlane | null;
}

/** The row of a point in the plane's equation. */
const planeRow = (x: number, y: number): readonly number[] => [1, -x, y];

/**
 * Heave, pitch and roll of the body from three ride heights or more, weighted by their uncertainty, all
 * from one datum. With more than three points the residuals say whether body and readings are a plane.
 */
export const bodyAttitude = (
  points: readonly HeightPoint[],
  car: Footprint,
): Outcome<BodyAttitude> => {
  if (points.length < 3)
    return refused(
      `A plane takes three ride heights; there are ${points.length}.`,
      'Measure at three reference points or more, not all in one line.',
    );
  if (new Set(points.map(({ datum }) => datum)).size > 1)
    return refused(
      'The ride heights are measured from different things.',
      'Survey the patch to bring them to one plane, or measure all from the same.',
    );
  if (points.some(({ height }) => !(height.u > 0)))
    return refused('A ride height has no uncertainty.', 'Give the one of the rule or block.');
  const rows = points.map(({ x, y }) => planeRow(x, y));
  const heights = points.map(({ height, above }) =>
    measured(height.value - above, height.u, height.dof),
  );
  const fit = weightedFit(rows, heights);
  if (!fit)
    return refused(
      'The reference points lie in one line.',
      'Take one more to the side of it, and look at their places in the car.',
    );
  const pitch = fit.estimate([0, 1, 0]);
  const { wheelbase } = car;
  const places = [
    [0, car.trackFront / 2],
    [0, -car.trackFront / 2],
    [-wheelbase, car.trackRear / 2],
    [-wheelbase, -car.trackRear / 2],
  ] as const;
  const notPlane = fit.agrees ? null : explainNotPlane(points, rows, heights, wheelbase);
  return found(
    {
      heave: fit.estimate([1, 0, 0]),
      pitch,
      roll: fit.estimate([0, 0, 1]),
      covariance: fit.covariance,
      corners: perCorner((_, i) => fit.estimate(planeRow(...(places[i] ?? places[0])))),
      rake: {
        length: fit.estimate([0, wheelbase, 0]),
        angle: measured(Math.atan(pitch.value), pitch.u / (1 + pitch.value ** 2), pitch.dof),
      },
      residuals: points.map(({ name }, i) => ({ name, residual: fit.residuals[i] as number })),
      notPlane,
    },
    notPlane ? [notPlane.words] : [],
  );
};
