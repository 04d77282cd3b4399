import type { STILLNESS } from '../contract/events.ts';
import { SAMPLE_FLAGS, type PadSample } from '../reading.ts';
import { createSettle } from '../signal/settle.ts';
import { feedForce, type PadFeed } from './padFeed.ts';

/**
 * One pad looked at by itself, whatever corner it has or none: while masses are put on it. Judged by
 * the same detector as a corner of the car.
 */
export interface PadWatch {
  readonly serial: string | null;
  /** Looks at another pad, or at none. */
  watch(serial: string | null): void;
  take(feed: PadFeed, samples: readonly PadSample[]): void;
  gap(serial: string): void;
  now(): {
    readonly stillness: (typeof STILLNESS)[number] | null;
    /** The window over which it is settled, s; null while it is not. */
    readonly window: { readonly from: number; readonly to: number } | null;
  };
  /** Its zero or calibration changed. */
  startAnew(): void;
}

export const createPadWatch = (): PadWatch => {
  const settle = createSettle();
  const { LF: one } = settle.corners;
  let serial: string | null = null;
  return {
    get serial() {
      return serial;
    },
    watch: (next) => {
      if (next === serial) return;
      serial = next;
      settle.restart();
    },
    take: (feed, samples) => {
      if (feed.serial !== serial) return;
      for (const sample of samples) {
        if (sample.flags & SAMPLE_FLAGS.spike) continue;
        const force = feedForce(feed, sample.clean);
        if (force !== null) one.push(sample.t, force);
      }
    },
    gap: (broken) => {
      if (broken === serial) one.gap();
    },
    now: () => {
      const { stillness, settled } = one.now();
      return { stillness, window: settled };
    },
    startAnew: settle.restart,
  };
};
