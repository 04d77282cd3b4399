import type { Corner } from '../corners.ts';
import { SAMPLE_FLAGS, type PadSample } from '../reading.ts';
import { createEarly, type EarlyReading } from '../signal/early/early.ts';
import { feedForce, type PadFeed } from './padFeed.ts';

/** Where the car is going to settle, while it still moves: always provisional. */
export interface EarlyWatch {
  take(corner: Corner, feed: PadFeed, samples: readonly PadSample[]): void;
  gap(corner: Corner): void;
  /** Looks anew; costs some milliseconds, so it is called a few times a second. */
  look(): void;
  /** The newest look's reading; null where it says nothing. */
  now(): EarlyReading | null;
  reset(): void;
}

/** A spike is no load, and what the converter or the cell could not take is only a bound. */
const NOT_LOADS = SAMPLE_FLAGS.spike | SAMPLE_FLAGS.saturated | SAMPLE_FLAGS.overload;

export const createEarlyWatch = (): EarlyWatch => {
  const early = createEarly();
  let newest: EarlyReading | null = null;
  return {
    take: (corner, feed, samples) => {
      for (const sample of samples) {
        if (sample.flags & NOT_LOADS) continue;
        const force = feedForce(feed, sample.clean);
        if (force !== null) early.corners[corner].push(sample.t, force);
      }
    },
    gap: (corner) => early.corners[corner].gap(),
    look: () => {
      const look = early.look();
      newest = look.ok ? look.reading : null;
    },
    now: () => newest,
    reset: () => {
      newest = null;
      early.restart();
    },
  };
};
