import type { Frame } from '../contract/events.ts';
import { CORNERS, inOrder, perCorner } from '../corners.ts';
import { measured, type Measured } from '../measured.ts';
import type { Four } from '../balance/propagate.ts';
import type { LoadsNow } from './progress.ts';
import type { AdjustReading } from './reading.ts';

/** How long all four must have been settled before a reading is taken, s; ours, no source. */
const SETTLED_FOR = 1;
/** Scatter of a newest value over that of a settled window's mean, which is about ten times as long. */
const NEWEST_OVER_MEAN = 3;

/** Whether the four corners of a frame make a settled reading. */
export const isSettledReading = (frame: Frame | null): boolean =>
  frame !== null &&
  frame.settledFor >= SETTLED_FOR &&
  CORNERS.every(
    (corner) => frame.corners[corner].status === 'live' && frame.corners[corner].mean !== null,
  );

/**
 * A settled reading from a live frame: the means of the window in newton, each with its own scatter;
 * between pads of one window there is none to share. Null while not all four are live and settled.
 */
export const settledReading = (
  frame: Frame | null,
  about: {
    readonly gravity: number;
    readonly heights: readonly (Measured | null)[];
    readonly settled: AdjustReading['settled'];
  },
): AdjustReading | null => {
  if (!frame || !isSettledReading(frame)) return null;
  const { gravity, heights, settled } = about;
  const of = (pick: (mean: number, u: number) => number): Four => {
    const values = perCorner((corner) => {
      const { mean, u } = frame.corners[corner];
      return pick(mean ?? Number.NaN, u ?? Number.NaN);
    });
    return [...inOrder(values)];
  };
  const values = of((mean) => mean * gravity);
  const us = of((_, u) => u * gravity);
  if ([...values, ...us].some((each) => !Number.isFinite(each))) return null;
  const dof = frame.balance?.total.dof ?? Infinity;
  return {
    loads: {
      values,
      covariance: Array.from({ length: 16 }, (_, i) =>
        i % 5 === 0 ? (us[i / 5] as number) ** 2 : 0,
      ),
      dof: [dof, dof, dof, dof],
    },
    gravity,
    heights,
    settled,
  };
};

/**
 * The loads as they come, newton; null where a pad is not live. Settled ones have the scatter of their
 * window, newer ones that of the reading before the call, widened as a single value's.
 */
export const loadsNow = (frame: Frame | null, before: AdjustReading): LoadsNow =>
  perCorner((corner, i) => {
    const live = frame?.corners[corner];
    if (live?.status !== 'live') return null;
    const { gravity } = before;
    if (live.mean !== null && live.u !== null)
      return measured(live.mean * gravity, live.u * gravity, Infinity);
    if (live.mass === null) return null;
    const u = Math.sqrt(before.loads.covariance[i * 5] as number);
    return measured(live.mass * gravity, NEWEST_OVER_MEAN * u, Infinity);
  });
