import type { Measured } from '../measured.ts';
import { found, refused, tooUncertain, type Outcome } from './outcome.ts';
import { propagatedJointly } from './propagated.ts';

/** A reference point on the centre line, or the mean of a pair at either side. Metre. */
export interface RakePoint {
  readonly x: number;
  readonly height: Measured;
  /** How far the point lies above the body's own reference plane. */
  readonly above: number;
}

export interface Rake {
  /** Rear over front height at the axles, metre, positive nose-down. */
  readonly length: Measured;
  /** Rad. Caster falls by what rake rises: the steering axis leans forward with the body. */
  readonly angle: Measured;
}

/** Points nearer than this make a guess of what is said at the axles. Common practice, no source. */
const LEAST_APART = 0.3;

/** Rake from two reference points, projected to the axles. */
export const rake = (points: {
  readonly front: RakePoint;
  readonly rear: RakePoint;
  readonly wheelbase: number;
}): Outcome<Rake> => {
  const { front, rear, wheelbase } = points;
  const apart = front.x - rear.x;
  if (!(apart >= LEAST_APART))
    return refused(
      'The front reference point is not ahead of the rear one by 0.3 m.',
      'Look at their places in the car: x is zero at the front axle and negative behind it.',
    );
  if (!(wheelbase > 0)) return refused('There is no wheelbase.', 'Give it in the car.');
  const joint = propagatedJointly([front.height, rear.height], ([f = 0, r = 0]) => {
    const slope = (r - rear.above - (f - front.above)) / apart;
    return [slope * wheelbase, Math.atan(slope)];
  });
  const [length, angle] = joint?.values ?? [];
  return length && angle ? found({ length, angle }) : tooUncertain;
};
