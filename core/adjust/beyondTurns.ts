import type { Footprint } from '../balance/centreOfGravity.ts';
import { inOrder } from '../corners.ts';
import type { AdjustReading } from './reading.ts';
import type { Goal, Targets } from './targets.ts';

/**
 * Something wanted that equilibrium fixes and no perch, push-rod or shim can change: they move load
 * along the warp alone. It changes with mass: ballast, fuel, driver, or parts moved.
 */
export interface BeyondTurns {
  readonly kind: 'total' | 'front share' | 'left share';
  /** As it is and as it is wanted: kg, or a fraction. */
  readonly now: number;
  readonly target: number;
  /** Mass to add, kg (below zero to take out): for the total; else null. */
  readonly mass: number | null;
  /**
   * Mass times distance to move it, kg·m: forward positive for the front share, left positive for
   * the left share; null for the total.
   */
  readonly moment: number | null;
}

/** Compares the total and the shares wanted, and those that four corner weights wanted imply. */
export const beyondTurns = (
  car: Footprint,
  reading: AdjustReading,
  targets: Targets,
): readonly BeyondTurns[] => {
  const weights = reading.loads.values.map((load) => load / reading.gravity);
  const [lf = 0, rf = 0, lr = 0, rr = 0] = weights;
  const total = lf + rf + lr + rr;
  const goals = inOrder(targets.cornerWeights);
  const four = goals.every((goal) => goal !== null) ? goals : null;
  const sum = (of: (goal: Goal) => number, which: readonly number[]): number =>
    which.reduce((s, i) => s + (four?.[i] ? of(four[i]) : 0), 0);
  const ALL = [0, 1, 2, 3];
  const wantedTotal = sum((goal) => goal.target, ALL);
  const doubt = sum((goal) => goal.tolerance, ALL);
  const implied = (which: readonly number[]): Goal | null =>
    four && {
      target: sum((goal) => goal.target, which) / wantedTotal,
      tolerance: doubt / wantedTotal / 2,
    };

  const found: BeyondTurns[] = [];
  const isOff = (now: number, goal: Goal): boolean => Math.abs(now - goal.target) > goal.tolerance;
  const totalGoal = targets.total ?? (four && { target: wantedTotal, tolerance: doubt });
  if (totalGoal && isOff(total, totalGoal))
    found.push({
      kind: 'total',
      now: total,
      target: totalGoal.target,
      mass: totalGoal.target - total,
      moment: null,
    });
  const front = (lf + rf) / total;
  const frontGoal = targets.frontShare ?? implied([0, 1]);
  if (frontGoal && isOff(front, frontGoal))
    found.push({
      kind: 'front share',
      now: front,
      target: frontGoal.target,
      mass: null,
      moment: total * (frontGoal.target - front) * car.wheelbase,
    });
  const left = (lf + lr) / total;
  const leftGoal = targets.leftShare ?? implied([0, 2]);
  if (leftGoal && isOff(left, leftGoal))
    found.push({
      kind: 'left share',
      now: left,
      target: leftGoal.target,
      mass: null,
      // Tracks differ by little: load moved sideways is shared as the axles carry it.
      moment:
        total * (leftGoal.target - left) * (front * car.trackFront + (1 - front) * car.trackRear),
    });
  return found;
};
