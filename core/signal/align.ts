import { perCorner, type PerCorner } from '../corners.ts';
import { CLOCK_ROUNDING } from './settleOptions.ts';

/** A stream as readers see it, by absolute cursor; a column of a ring is one. Times never fall. */
export interface TimeSeries {
  readonly begin: number;
  readonly end: number;
  timeAt(cursor: number): number;
  /** NaN in a hole. */
  valueAt(cursor: number): number;
  /** Cursor of the first entry at or after time `t`; `end` where all are older. */
  firstAt(t: number): number;
}

/**
 * The value of each of four streams at one common time, by the straight line between the samples on
 * either side of it. Null for a stream that has no sample on one of the sides, or where the two are
 * further apart than `maxGap` seconds, or a hole lies between: nothing is carried forward.
 */
export const align = (
  streams: PerCorner<TimeSeries>,
  at: { readonly t: number; readonly maxGap: number },
): PerCorner<number | null> => perCorner((corner) => valueAt(streams[corner], at));

const valueAt = (
  stream: TimeSeries,
  at: { readonly t: number; readonly maxGap: number },
): number | null => {
  const { t, maxGap } = at;
  const right = stream.firstAt(t);
  if (right >= stream.end) return null;
  const rightTime = stream.timeAt(right);
  const rightValue = stream.valueAt(right);
  if (!Number.isFinite(rightValue)) return null;
  if (rightTime === t) return rightValue;
  const left = right - 1;
  if (left < stream.begin) return null;
  const leftTime = stream.timeAt(left);
  const leftValue = stream.valueAt(left);
  if (!Number.isFinite(leftValue) || rightTime - leftTime > maxGap + CLOCK_ROUNDING) return null;
  return leftValue + ((t - leftTime) / (rightTime - leftTime)) * (rightValue - leftValue);
};

/**
 * The newest time at which all four can have a value: the oldest of their newest samples. Null while
 * a stream is empty.
 */
export const newestCommonTime = (streams: PerCorner<TimeSeries>): number | null => {
  let newest = Infinity;
  for (const stream of [streams.LF, streams.RF, streams.LR, streams.RR]) {
    if (stream.end <= stream.begin) return null;
    newest = Math.min(newest, stream.timeAt(stream.end - 1));
  }
  return newest;
};
