import { measured, type Measured } from '../measured.ts';
import { effectiveDof } from '../uncertainty/combine.ts';

export interface HalfTurn {
  /** Mean of both positions: the wheel's run-out is not in it. */
  readonly value: Measured;
  /** Half the difference, first less second: the run-out that was in the first. */
  readonly runOut: Measured;
}

/**
 * Camber or toe of a wheel read twice, the wheel rolled on by half a turn in between. A face or rim that
 * is not true to its axis adds to the one reading what it takes from the other.
 */
export const halfTurn = (first: Measured, second: Measured): HalfTurn => {
  const u = Math.hypot(first.u, second.u) / 2;
  const dof = effectiveDof([first, second]);
  return {
    value: measured((first.value + second.value) / 2, u, dof),
    runOut: measured((first.value - second.value) / 2, u, dof),
  };
};
