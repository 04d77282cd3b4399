import type { STILLNESS } from '../contract/events.ts';
import { perCorner, type Corner, type PerCorner } from '../corners.ts';
import { SAMPLE_FLAGS, type PadSample } from '../reading.ts';
import { createSettle } from '../signal/settle.ts';
import { feedForce, isLive, type PadFeed } from './padFeed.ts';

type Still = (typeof STILLNESS)[number];

/** How still the four corners are at one moment. */
export interface StillnessNow {
  /** Null while too little is known or the corner is not live. */
  readonly corners: PerCorner<Still | null>;
  /** All four together; null while any corner is not known. */
  readonly all: Still | null;
  /** How long all four have been settled, s. */
  readonly settledFor: number;
  /** The window over which all four are settled; null while they are not. */
  readonly window: { readonly from: number; readonly to: number } | null;
}

/** Feeds the settle detector and says what it knows, as long as the pads are live. */
export interface Stillness {
  take(corner: Corner, feed: PadFeed, samples: readonly PadSample[]): void;
  gap(corner: Corner): void;
  now(under: PerCorner<PadFeed | null>, t: number): StillnessNow;
  reset(): void;
}

/** Makes it, knowing nothing yet. */
export const createStillness = (): Stillness => {
  const settle = createSettle();
  return {
    take: (corner, feed, samples) => {
      for (const sample of samples) {
        if (sample.flags & SAMPLE_FLAGS.spike) continue;
        const force = feedForce(feed, sample.clean);
        if (force !== null) settle.corners[corner].push(sample.t, force);
      }
    },
    gap: (corner) => settle.corners[corner].gap(),
    now: (under, t) => {
      const corners = perCorner((corner) => {
        const feed = under[corner];
        return feed && isLive(feed, t) ? settle.corners[corner].now().stillness : null;
      });
      const four = settle.now();
      const known = Object.values(corners).every((one) => one !== null);
      const all = known ? four.stillness : null;
      return {
        corners,
        all,
        settledFor: all === 'settled' && four.since !== null ? Math.max(0, t - four.since) : 0,
        window: all === 'settled' ? four.settled : null,
      };
    },
    reset: settle.restart,
  };
};
