import { balance } from '../balance/balance.ts';
import type { Balance, CrossDiagonal } from '../contract/records.ts';
import { CORNERS, perCorner, type PerCorner } from '../corners.ts';
import type { Car } from '../sheet/car.ts';
import { align, newestCommonTime } from '../signal/align.ts';
import { LONGEST_HOLE, type FourMeasured } from './measureFour.ts';
import { feedForce, isLive, isOverloaded, type PadFeed } from './padFeed.ts';

const NO_COVARIANCE = new Array<number>(16).fill(0);

/** The forces of all four at the newest time that all have reached, N; null while one is not live. */
const newestForces = (under: PerCorner<PadFeed | null>, now: number): PerCorner<number> | null => {
  const { LF, RF, LR, RR } = under;
  if (!LF || !RF || !LR || !RR) return null;
  const feeds = { LF, RF, LR, RR };
  for (const corner of CORNERS)
    if (!isLive(feeds[corner], now) || isOverloaded(feeds[corner])) return null;
  const smooth = perCorner((corner) => feeds[corner].ring.column('smooth'));
  const t = newestCommonTime(smooth);
  if (t === null) return null;
  const counts = align(smooth, { t, maxGap: LONGEST_HOLE });
  const forces = perCorner((corner) => feedForce(feeds[corner], counts[corner] ?? Number.NaN));
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
