import { CORNER_NAMES } from '../corners.ts';
import type { Reason } from './disagreement.ts';

/** A reason with what would tell it from the others. */
export const reasonInWords = ({ kind, corner }: Reason): string => {
  const where = corner ? CORNER_NAMES[corner] : '';
  switch (kind) {
    case 'bar connected':
      return 'an anti-roll bar is still connected (take a drop link off and look again)';
    case 'thread pitch':
      return `the thread of the ${where} has another pitch than the data say (measure ten threads)`;
    case 'coil-bound':
      return `the ${where} spring is coil-bound or on its packer (look for daylight between coils)`;
    case 'loose':
      return `the ${where} perch turns without carrying, or the spring is loose (turn it by hand, look at the seat)`;
    case 'stuck damper':
      return `the ${where} damper sticks (bounce the car and read again)`;
    case 'other turns':
      return 'another corner, way or number of turns was made than called (count the threads)';
    case 'hand or mass':
      return 'somebody touches the car, or mass was put in or taken out (all clear, read again)';
  }
};
