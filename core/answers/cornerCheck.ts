import type { BenchState, Frame } from '../contract/events.ts';
import { CORNERS, type Corner } from '../corners.ts';

/** What a screen may know when it answers: the bench's state, the newest frame, and the link. */
export interface Seen {
  /** False while the link to the bench is broken: whatever is shown then is old. */
  readonly joined: boolean;
  readonly state: BenchState | null;
  readonly frame: Frame | null;
}

/** A total below this has no car in it, kg: set-up wheels and plates are lighter; no source. */
export const EMPTY_PADS_TOTAL = 40;

/** The corners for which something is so, in order. */
export const cornersWhere = (is: (corner: Corner) => boolean): readonly Corner[] =>
  CORNERS.filter(is);

/** The sum of the four newest corner weights, kg; null while one of them is not live or not zeroed. */
const liveTotal = (frame: Frame): number | null => {
  let total = 0;
  for (const corner of CORNERS) {
    const { status, mass, zeroed } = frame.corners[corner];
    if (status !== 'live' || mass === null || !zeroed) return null;
    total += mass;
  }
  return total;
};

/** Whether all four pads are live, zeroed and carry no car. */
export const arePadsEmpty = (frame: Frame): boolean => {
  const total = liveTotal(frame);
  return total !== null && Math.abs(total) < EMPTY_PADS_TOTAL;
};
