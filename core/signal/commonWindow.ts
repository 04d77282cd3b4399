import { CORNERS, perCorner, type Corner, type PerCorner } from '../corners.ts';
import type { RingPart } from '../ring.ts';
import type { TimeSeries } from './align.ts';
import { CLOCK_ROUNDING } from './settleOptions.ts';

/** A stretch that all four streams fill, or the first corner that does not and where. */
export type CommonWindow =
  | { readonly ok: true; readonly parts: PerCorner<RingPart> }
  | {
      readonly ok: false;
      readonly corner: Corner;
      /** Where nothing is known of that corner, s. */
      readonly from: number;
      readonly to: number;
    };

/**
 * The samples of each of four streams from `from` to `to` (both included), if in none of them more
 * than `maxGap` seconds pass without one, the ends of the window among them. Else the first corner, in
 * the order of data, of which that is not so, and its first gap. Parts may hold entries that are holes.
 */
export const commonWindow = (
  streams: PerCorner<TimeSeries>,
  window: { readonly from: number; readonly to: number; readonly maxGap: number },
): CommonWindow => {
  const { from, to, maxGap } = window;
  for (const corner of CORNERS) {
    const gap = firstGap(streams[corner], window);
    if (gap) return { ok: false, corner, ...gap };
  }
  return {
    ok: true,
    parts: perCorner((corner) => {
      const stream = streams[corner];
      const first = stream.firstAt(from);
      let last = stream.firstAt(to + maxGap + CLOCK_ROUNDING);
      while (last > first && !(stream.timeAt(last - 1) <= to)) last -= 1;
      return { from: first, to: last };
    }),
  };
};

const firstGap = (
  stream: TimeSeries,
  window: { readonly from: number; readonly to: number; readonly maxGap: number },
): { readonly from: number; readonly to: number } | null => {
  const { from, to, maxGap } = window;
  const limit = maxGap + CLOCK_ROUNDING;
  let known = from;
  for (let cursor = stream.firstAt(from); cursor < stream.end; cursor += 1) {
    const t = stream.timeAt(cursor);
    if (t > to) break;
    if (!Number.isFinite(stream.valueAt(cursor))) continue;
    if (t - known > limit) return { from: known, to: t };
    known = t;
  }
  return to - known > limit ? { from: known, to } : null;
};
