import { balance } from '../balance/balance.ts';
import type { Four } from '../balance/propagate.ts';
import type { Balance } from '../contract/records.ts';
import { perCorner, type PerCorner } from '../corners.ts';
import { measured, type Measured } from '../measured.ts';
import { frictionAsSeats } from './friction.ts';
import { riseShares } from './heightPoint.ts';
import type { PlanInput } from './plan.ts';
import { predictChange, type Effects } from './turnResponse.ts';

/** What will be read after the turns, once the car has settled. */
export interface Prediction {
  /** Newton. */
  readonly loads: PerCorner<Measured>;
  /** In kg and shares, as a reading is shown. */
  readonly balance: Balance;
  /** Metre at each point: null where the height was not measured. */
  readonly heights: readonly (Measured | null)[];
  /** How far each point rises, metre. */
  readonly rises: readonly Measured[];
  /** Change of loads (N) and rises over the wheels (m), and the covariance of what will be read. */
  readonly change: readonly number[];
  readonly covariance: readonly number[];
}

/**
 * Predicts loads, balance and ride heights after turns, from the reading and the response. The doubt
 * is that of the reading, of the response, and of the friction held before and after; heights have
 * that of their own measurement too. Null where a wheel would leave its pad.
 */
export const predict = (
  input: Omit<PlanInput, 'adjusters'>,
  turns: PerCorner<number>,
  effects: Effects,
): Prediction | null => {
  const { reading, response, targets, friction } = input;
  const { car } = response.standing;
  const { change, covariance: ofResponse } = predictChange(response, turns, effects);
  const covariance = [...ofResponse];
  const rates = perCorner(
    (corner, i) => car.wheelRates[corner] * Math.exp(response.logFactors[4 + i] as number),
  );
  for (const settled of [reading.settled, 'bounced'] as const)
    frictionAsSeats(friction, rates, settled).forEach((sd, i) => {
      const column = effects.effects[i] as readonly number[];
      for (let a = 0; a < 8; a += 1)
        for (let b = 0; b < 8; b += 1)
          covariance[a * 8 + b] =
            (covariance[a * 8 + b] as number) +
            sd * sd * (column[a] as number) * (column[b] as number);
    });
  for (let a = 0; a < 4; a += 1)
    for (let b = 0; b < 4; b += 1)
      covariance[a * 8 + b] =
        (covariance[a * 8 + b] as number) + (reading.loads.covariance[a * 4 + b] as number);

  const at = (i: number): number => (reading.loads.values[i] as number) + (change[i] as number);
  const values: Four = [at(0), at(1), at(2), at(3)];
  if (values.some((load) => !(load > 0))) return null;
  const loads = perCorner((_, i) =>
    measured(
      values[i] as number,
      Math.sqrt(covariance[i * 9] as number),
      reading.loads.dof[i] as number,
    ),
  );
  const shown = balance({
    forces: loads,
    covariance: [0, 1, 2, 3].flatMap((a) => covariance.slice(a * 8, a * 8 + 4)),
    gravity: reading.gravity,
    cross: targets.diagonal,
    wheelbase: car.wheelbase,
    trackFront: car.trackFront,
    trackRear: car.trackRear,
  });
  if (!shown) return null;
  const rises = targets.heights.map(({ point }) => {
    const by = [0, 0, 0, 0, ...riseShares(car, point)];
    let rise = 0;
    let variance = 0;
    for (let i = 4; i < 8; i += 1) {
      rise += (by[i] as number) * (change[i] as number);
      for (let k = 4; k < 8; k += 1)
        variance += (by[i] as number) * (by[k] as number) * (covariance[i * 8 + k] as number);
    }
    return measured(rise, Math.sqrt(Math.max(0, variance)), Infinity);
  });
  return {
    loads,
    balance: shown,
    heights: rises.map((rise, i) => {
      const now = reading.heights[i];
      return now
        ? measured(now.value + rise.value, Math.hypot(now.u, rise.u), Math.min(now.dof, rise.dof))
        : null;
    }),
    rises,
    change,
    covariance,
  };
};
