import { perCorner, type PerCorner } from '../corners.ts';
import type { Refusal } from '../contract/commands.ts';
import { CORNERS, CORNER_NAMES } from '../corners.ts';
import { average } from '../signal/average.ts';
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

/** The mean counts of one pad over [from, to], s; null where there are too few samples. */
const meanCounts = (feed: PadFeed, from: number, to: number): ReturnType<typeof average> => {
  const { ring } = feed;
  const part = { from: ring.firstAt(from), to: ring.firstAt(to) };
  const size = Math.max(0, part.to - part.from);
  const column = (name: 't' | 'clean' | 'flags'): Float64Array => {
    const out = new Float64Array(size);
    ring.copy(name, part, out);
    return out;
  };
  return average({ t: column('t'), x: column('clean'), flags: column('flags') });
};

export type ZerosTaken =
  | { readonly ok: true; readonly zeros: PerCorner<ZeroRecord> }
  | { readonly ok: false; readonly refusal: Refusal };

/** Takes the zeros of the four pads over a window in which they were still. */
export const takeZeros = (
  under: PerCorner<PadFeed>,
  window: { readonly from: number; readonly to: number },
  labels: { readonly takenAt: number; readonly newId: () => string },
): ZerosTaken => {
  const means = perCorner((corner) => meanCounts(under[corner], window.from, window.to));
  for (const corner of CORNERS) {
    const mean = means[corner];
    const feed = under[corner];
    const rated = feed.status?.rating?.countsAtRatedLoad ?? null;
    if (!mean)
      return {
        ok: false,
        refusal: {
          why: `${CORNER_NAMES[corner]}: too few samples for a zero.`,
          next: 'Wait a moment and press Zero again.',
          corner,
        },
      };
    if (rated !== null && Math.abs(mean.mean) > LARGEST_ZERO * Math.abs(rated))
      return {
        ok: false,
        refusal: {
          why: `${CORNER_NAMES[corner]}: too much load to be called nothing.`,
          next: 'Raise the car clear of the pads, then press Zero.',
          corner,
        },
      };
  }
  return {
    ok: true,
    zeros: perCorner((corner) => {
      const mean = means[corner] as NonNullable<(typeof means)[typeof corner]>;
      const feed = under[corner];
      return {
        id: labels.newId(),
        padSerial: feed.serial,
        takenAt: labels.takenAt,
        counts: mean.mean,
        u: mean.u,
        dof: mean.dof,
        temperature: feed.status?.temperature ?? null,
      };
    }),
  };
};
