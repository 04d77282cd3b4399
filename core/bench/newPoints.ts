import { feedForce, type PadFeed } from './padFeed.ts';
import type { FrameCursors } from './screens.ts';

/**
 * The points of a feed since the screen's cursor of that key, in kg; a hole is null. Moves the cursor
 * on.
 */
export const newPoints = (
  feed: PadFeed,
  { gravity, key }: { readonly gravity: number; readonly key: string },
  cursors: FrameCursors,
): { readonly t: number[]; readonly kg: (number | null)[] } => {
  const { ring } = feed;
  const told = ring.since(cursors.get(key) ?? 0);
  const part = told === 'lapped' ? { from: ring.begin, to: ring.end } : told;
  const t: number[] = [];
  const kg: (number | null)[] = [];
  for (let cursor = part.from; cursor < part.to; cursor += 1) {
    const force = feedForce(feed, ring.valueAt('smooth', cursor));
    t.push(ring.timeAt(cursor));
    kg.push(force === null ? null : force / gravity);
  }
  cursors.set(key, part.to);
  return { t, kg };
};
