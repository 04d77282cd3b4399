import type { Refusal } from '../contract/commands.ts';
import { CORNERS, CORNER_NAMES, type Corner } from '../corners.ts';
import { meanCounts } from './meanCounts.ts';
import type { PadFeed } from './padFeed.ts';
import type { ZeroRecord } from './storePort.ts';

/**
 * Zeros: the mean counts of pads with nothing on them, over the window in which all were still.
 */

/**
 * Largest share of the rated load that may be called nothing: OIML R 76-1:2006, 4.5.1 (initial
 * zero-setting at most 20 % of Max).
 */
const LARGEST_ZERO = 0.2;

export type ZerosTaken<P extends string> =
  | { readonly ok: true; readonly zeros: Readonly<Record<P, ZeroTaken>> }
  | { readonly ok: false; readonly refusal: Refusal };

/** A zero with the scatter of single readings while it was taken, counts. */
export type ZeroTaken = ZeroRecord & { readonly sd: number };

const isCorner = (place: string): place is Corner => CORNERS.some((corner) => corner === place);

/**
 * Takes the zeros of the pads at some places over a window in which they were still. The place is a
 * corner, or any name for a pad by itself.
 */
export const takeZeros = <P extends string>(
  pads: Readonly<Record<P, PadFeed>>,
  window: { readonly from: number; readonly to: number },
  labels: { readonly takenAt: number; readonly newId: () => string },
): ZerosTaken<P> => {
  const zeros: [P, ZeroTaken][] = [];
  for (const [place, feed] of Object.entries(pads) as [P, PadFeed][]) {
    const corner = isCorner(place) ? place : null;
    const name = corner ? CORNER_NAMES[corner] : feed.serial;
    const mean = meanCounts(feed, window);
    const rated = feed.status?.rating?.countsAtRatedLoad ?? null;
    const refusal = (why: string, next: string): ZerosTaken<P> => ({
      ok: false,
      refusal: { why: `${name}: ${why}`, next, corner },
    });
    if (!mean) return refusal('too few samples for a zero.', 'Wait a moment and press Zero again.');
    if (rated !== null && Math.abs(mean.mean) > LARGEST_ZERO * Math.abs(rated))
      return refusal(
        'too much load to be called nothing.',
        corner
          ? 'Raise the car clear of the pads, then press Zero.'
          : 'Take everything off the pad, then press Zero.',
      );
    zeros.push([
      place,
      {
        id: labels.newId(),
        padSerial: feed.serial,
        takenAt: labels.takenAt,
        counts: mean.mean,
        u: mean.u,
        dof: mean.dof,
        temperature: feed.status?.temperature ?? null,
        sd: mean.sd,
      },
    ]);
  }
  return { ok: true, zeros: Object.fromEntries(zeros) as Record<P, ZeroTaken> };
};
