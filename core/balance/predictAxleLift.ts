import { refused, type Refused } from '../alignment/outcome.ts';
import { centreHeight, liftAngle, liftLeverage, type LiftGeometry } from './axleLiftGeometry.ts';

export interface AxleLiftPlan {
  /** Rad. */
  readonly angle: number;
  /** Load on the standing axle, and how much more that is than level, kg. */
  readonly load: number;
  readonly gain: number;
  /** Metre of CG height that one kilogram of that load is worth: what the lift can tell. */
  readonly heightPerKilogram: number;
}

/**
 * What an axle lift will show, for planning it: lift in metre, mass in kg, the share on the axle that
 * stays down, and a guess of the CG height.
 */
export const predictAxleLift = (
  plan: LiftGeometry & {
    readonly mass: number;
    readonly shareStanding: number;
    readonly cgHeight: number;
    readonly lift: number;
  },
): ({ readonly ok: true } & AxleLiftPlan) | Refused => {
  const { mass, shareStanding, cgHeight, lift } = plan;
  const sizes = [plan.wheelbase, plan.radiusStanding, plan.radiusLifted, mass, cgHeight, lift];
  if (
    !sizes.every((size) => size > 0 && size < Infinity) ||
    !(shareStanding > 0 && shareStanding < 1)
  )
    return refused(
      'Wheelbase, radii, mass, share, height and lift must all be above zero.',
      'Give them in the car, or weigh it first.',
    );
  const angle = liftAngle(plan, lift);
  const leverage = angle === null ? Infinity : liftLeverage(plan, angle);
  const gain = mass * (cgHeight - centreHeight(plan, shareStanding)) * leverage;
  const load = mass * shareStanding + gain;
  if (angle === null || !(leverage > 0 && leverage < Infinity) || !(load > 0 && load < mass))
    return refused('The car would stand on its end or fall over.', 'Plan a smaller lift.');
  return { ok: true, angle, load, gain, heightPerKilogram: 1 / (mass * leverage) };
};
