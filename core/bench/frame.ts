import { balance } from '../balance/balance.ts';
import type { CornerLive, EarlyShown, Frame } from '../contract/events.ts';
import { perCorner, type Corner, type PerCorner } from '../corners.ts';
import type { EarlyReading } from '../signal/early/early.ts';
import type { Second } from '../units.ts';
import { liveBalance } from './liveBalance.ts';
import { feedForce, isLive, isOverloaded, type PadFeed } from './padFeed.ts';
import type { FourMeasured } from './measureFour.ts';
import { newPoints } from './newPoints.ts';
import { onePadLive } from './onePad.ts';
import type { PadWatch } from './padWatch.ts';
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
  /** Null while the car is at rest, or nothing can be said. */
  readonly early: EarlyReading | null;
  readonly watch: PadWatch;
  readonly watched: PadFeed | null;
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
    ...newPoints(feed, { gravity: now.gravity, key: feed.serial }, cursors),
  };
};

/** Where the car is going to settle, as a screen is told; null where it would not be a car. */
const earlyShown = ({ early, car, cross, gravity }: LiveNow): EarlyShown | null => {
  const { wheelbase, trackFront, trackRear } = car;
  const found =
    early &&
    balance({
      forces: early.corners,
      covariance: early.covariance,
      gravity,
      cross,
      wheelbase,
      trackFront,
      trackRear,
    });
  return (
    found && {
      balance: found,
      masses: perCorner((corner) => {
        const { value, u, dof } = early.corners[corner];
        return { value: value / gravity, u: u / gravity, dof };
      }),
    }
  );
};

/** The frame with number `no` for the screen whose cursors are given. */
export const liveFrame = (now: LiveNow, cursors: FrameCursors, no: number): Frame => {
  const found = liveBalance(now);
  return {
    no,
    t: now.t,
    corners: perCorner((corner) => cornerLive(corner, now, cursors)),
    stillness: now.stillness.all,
    settledFor: now.stillness.settledFor,
    balance: found,
    early: earlyShown(now),
    onePad: onePadLive(
      { watch: now.watch, feed: now.watched, t: now.t, gravity: now.gravity },
      cursors,
    ),
    notReady: now.notReady ?? (found ? null : NOTHING_THERE.why),
  };
};
