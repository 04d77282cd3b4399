import { riseShares } from '../../adjust/heightPoint.ts';
import { CORNERS, type Corner } from '../../corners.ts';
import type { Action, FourOf, Response } from './bodyResponse.ts';
import type { CauseCar, Measures } from './causeCar.ts';

const place = (corner: Corner): 0 | 1 | 2 | 3 => CORNERS.indexOf(corner) as 0 | 1 | 2 | 3;

const isLeft = (corner: Corner): boolean => corner === 'LF' || corner === 'LR';
const isFront = (corner: Corner): boolean => corner === 'LF' || corner === 'RF';

/**
 * Change of each item when the body answers an action by `response`: plain geometry, small angles. The
 * body is straight between its axles, each of which rolls by its own angle. A wheel leans with the body
 * and by its gain with the travel between them; it steers by bump steer alone; caster goes with pitch.
 */
export const bodySignature = (
  items: readonly Measures[],
  { standing, camberGain, bumpSteer }: CauseCar,
  action: Action,
  { loads, rise }: Response,
): readonly number[] => {
  const { wheelbase, trackFront, trackRear } = standing.car;
  const axle = (left: number, right: number, track: number) => ({
    middle: (left + right) / 2,
    roll: (left - right) / track,
  });
  const front = axle(rise[0], rise[1], trackFront);
  const rear = axle(rise[2], rise[3], trackRear);
  const bump = (k: keyof FourOf & number): number =>
    (action.pads[k] as number) + (action.wheels[k] as number) - (rise[k] as number);
  return items.map((item): number => {
    switch (item.what) {
      case 'corner weight':
        return loads[place(item.corner)] / standing.gravity;
      case 'ride height': {
        const over = riseShares(standing.car, item).reduce(
          (sum, share, k) => sum + share * (rise[k] as number),
          0,
        );
        return over - (item.from === 'plane' ? 0 : action.pads[place(item.from)]);
      }
      case 'camber': {
        const { roll } = isFront(item.corner) ? front : rear;
        const gain = camberGain?.[item.corner] ?? 0;
        return (isLeft(item.corner) ? -roll : roll) + gain * bump(place(item.corner));
      }
      case 'toe':
        return (bumpSteer?.[item.corner] ?? 0) * bump(place(item.corner));
      case 'caster':
        return (front.middle - rear.middle) / wheelbase;
      case 'other':
        return 0;
    }
  });
};
