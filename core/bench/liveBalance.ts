import { balance } from '../balance/balance.ts';
import type { Balance, CrossDiagonal } from '../contract/records.ts';
import { CORNERS, perCorner, type PerCorner } from '../corners.ts';
import type { Car } from '../sheet/car.ts';
import type { FourMeasured } from './measureFour.ts';
import { feedForce, isLive, isOverloaded, type PadFeed } from './padFeed.ts';

const NO_COVARIANCE = new Array<number>(16).fill(0);

/** Value of a feed's smoothed counts at time `t`, between the samples before and after; null in a hole. */
const smoothAt = (feed: PadFeed, t: number): number | null => {
  const { ring } = feed;
  const after = ring.firstAt(t);
  const late = ring.valueAt('smooth', after);
  const span = ring.timeAt(after) - ring.timeAt(after - 1);
  if (ring.timeAt(after) === t || !(span > 0)) return Number.isFinite(late) ? late : null;
  const early = ring.valueAt('smooth', after - 1);
  const value = early + ((late - early) * (t - ring.timeAt(after - 1))) / span;
  return Number.isFinite(value) ? value : null;
};

/** The forces of all four at the newest time that all have reached, N; null while one is not live. */
const newestForces = (under: PerCorner<PadFeed | null>, now: number): PerCorner<number> | null => {
  const { LF, RF, LR, RR } = under;
  if (!LF || !RF || !LR || !RR) return null;
  const feeds = { LF, RF, LR, RR };
  for (const corner of CORNERS)
    if (!isLive(feeds[corner], now) || isOverloaded(feeds[corner])) return null;
  const t = Math.min(...CORNERS.map((corner) => feeds[corner].lastAt ?? now));
  const forces = perCorner((corner) => {
    const counts = smoothAt(feeds[corner], t);
    return counts === null ? null : feedForce(feeds[corner], counts);
  });
  return CORNERS.every((corner) => forces[corner] !== null) ? (forces as PerCorner<number>) : null;
};

/**
 * The balance a screen shows now: of the settled window where there is one; else of the newest
 * values at one common time, every u 0 because a car that moves is not a measurement. Null while a
 * corner is not live, is overloaded, or nothing stands on the pads.
 */
export const liveBalance = (now: {
  readonly t: number;
  readonly under: PerCorner<PadFeed | null>;
  readonly four: FourMeasured | null;
  readonly car: Car;
  readonly cross: CrossDiagonal;
  readonly gravity: number;
}): Balance | null => {
  const { wheelbase, trackFront, trackRear } = now.car;
  const about = { wheelbase, trackFront, trackRear, gravity: now.gravity, cross: now.cross };
  if (now.four)
    return balance({ ...about, forces: now.four.forces, covariance: now.four.covariance });
  const forces = newestForces(now.under, now.t);
  if (!forces) return null;
  return balance({
    ...about,
    forces: perCorner((corner) => ({ value: forces[corner], u: 0, dof: Infinity })),
    covariance: NO_COVARIANCE,
  });
};
