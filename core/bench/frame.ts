import type { CornerLive, Frame } from '../contract/events.ts';
import { perCorner, type Corner, type PerCorner } from '../corners.ts';
import type { Second } from '../units.ts';
import { liveBalance } from './liveBalance.ts';
import { feedForce, isLive, isOverloaded, type PadFeed } from './padFeed.ts';
import type { FourMeasured } from './measureFour.ts';
import type { FrameCursors } from './screens.ts';
import { NOTHING_THERE } from './readiness.ts';
import type { StillnessNow } from './stillness.ts';
import type { Car } from '../sheet/car.ts';
import type { CrossDiagonal } from '../contract/records.ts';

/**
 * The live frame of one screen: what is new since its last one. What is not known is null, never
 * the last number; a corner that was not heard lately is not live, whatever it said before.
 */
export interface LiveNow {
  readonly t: Second;
  readonly under: PerCorner<PadFeed | null>;
  readonly car: Car;
  readonly cross: CrossDiagonal;
  readonly gravity: number;
  readonly stillness: StillnessNow;
  /** The four corners over the settled window; null while they are not settled. */
  readonly four: FourMeasured | null;
  readonly notReady: string | null;
}

const ABSENT: CornerLive = {
  status: 'absent',
  age: null,
  mass: null,
  stillness: null,
  mean: null,
  u: null,
  overload: false,
  calibrated: false,
  zeroed: false,
  t: [],
  kg: [],
};

/** The points since the screen's cursor, in kg; a hole is null. Moves the cursor on. */
const newPoints = (
  feed: PadFeed,
  gravity: number,
  cursors: FrameCursors,
): { readonly t: number[]; readonly kg: (number | null)[] } => {
  const { ring } = feed;
  const told = ring.since(cursors.get(feed.serial) ?? 0);
  const part = told === 'lapped' ? { from: ring.begin, to: ring.end } : told;
  const t: number[] = [];
  const kg: (number | null)[] = [];
  for (let cursor = part.from; cursor < part.to; cursor += 1) {
    const force = feedForce(feed, ring.valueAt('smooth', cursor));
    t.push(ring.timeAt(cursor));
    kg.push(force === null ? null : force / gravity);
  }
  cursors.set(feed.serial, part.to);
  return { t, kg };
};

const cornerLive = (corner: Corner, now: LiveNow, cursors: FrameCursors): CornerLive => {
  const feed = now.under[corner];
  if (!feed || feed.lastAt === null || !feed.calibration) return ABSENT;
  const live = isLive(feed, now.t);
  const newest = feedForce(feed, feed.lastSmooth);
  const mean = live && now.four ? now.four.forces[corner] : null;
  return {
    status: live ? 'live' : 'stale',
    age: Math.max(0, now.t - feed.lastAt),
    mass: newest === null ? null : newest / now.gravity,
    stillness: now.stillness.corners[corner],
    mean: mean === null ? null : mean.value / now.gravity,
    u: mean === null ? null : mean.u / now.gravity,
    overload: isOverloaded(feed),
    calibrated: feed.calibration.calibrated,
    zeroed: feed.zero !== null,
    ...newPoints(feed, now.gravity, cursors),
  };
};

/** The frame with number `no` for the screen whose cursors are given. */
export const liveFrame = (now: LiveNow, cursors: FrameCursors, no: number): Frame => {
  const balance = liveBalance(now);
  return {
    no,
    t: now.t,
    corners: perCorner((corner) => cornerLive(corner, now, cursors)),
    stillness: now.stillness.all,
    settledFor: now.stillness.settledFor,
    balance,
    notReady: now.notReady ?? (balance ? null : NOTHING_THERE.why),
  };
};
