import type { OnePadLive } from '../contract/events.ts';
import { meanCounts } from './meanCounts.ts';
import { newPoints } from './newPoints.ts';
import { feedForce, isLive, type PadFeed } from './padFeed.ts';
import type { PadWatch } from './padWatch.ts';
import type { FrameCursors } from './screens.ts';

/** The pad that is looked at by itself, as a screen is told of it; null while none is. */
export const onePadLive = (
  {
    watch,
    feed,
    t,
    gravity,
  }: {
    readonly watch: PadWatch;
    readonly feed: PadFeed | null;
    readonly t: number;
    readonly gravity: number;
  },
  cursors: FrameCursors,
): OnePadLive | null => {
  if (!feed || watch.serial === null) return null;
  const live = isLive(feed, t);
  const { stillness, window } = watch.now();
  const mean = live && window ? meanCounts(feed, window) : null;
  const inKg = (counts: number): number | null => {
    const force = feedForce(feed, counts);
    return force === null ? null : force / gravity;
  };
  const value = mean && inKg(mean.mean);
  const above = mean && inKg(mean.mean + mean.u);
  return {
    serial: feed.serial,
    isLive: live,
    stillness: live ? stillness : null,
    mass: inKg(feed.lastSmooth),
    mean: value,
    u: value !== null && above !== null ? Math.abs(above - value) : null,
    ...newPoints(feed, { gravity, key: `one ${feed.serial}` }, cursors),
  };
};
