import type { PerCorner } from '../corners.ts';
import { inOrder } from '../corners.ts';
import type { AdjustReading } from './reading.ts';

/**
 * A strut holds any force within ± its friction, so where the car rests depends on how it came
 * there. A force f held in a strut of wheel rate k does what a seat moved by f/k does.
 */

/** Share of the friction that a strut is taken to hold, as a standard deviation. */
const HELD = {
  /** Anywhere within ± friction: rectangular, JCGM 100:2008, 4.3.7. */
  'as it came': 1 / Math.sqrt(3),
  /** What a bounce that dies away leaves: seen in the practice rig, no other source. */
  bounced: 0.1,
} as const satisfies Record<AdjustReading['settled'], number>;

/** Standard deviation of each seat (metre at the wheel) that friction stands for. */
export const frictionAsSeats = (
  friction: PerCorner<number>,
  wheelRates: PerCorner<number>,
  settled: AdjustReading['settled'],
): readonly number[] => {
  const rates = inOrder(wheelRates);
  return inOrder(friction).map((force, i) => (force * HELD[settled]) / (rates[i] as number));
};
