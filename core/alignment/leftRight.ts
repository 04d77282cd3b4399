import { measured, type Measured } from '../measured.ts';
import { effectiveDof } from '../uncertainty/combine.ts';
import { found, refused, type Outcome, type Sides } from './outcome.ts';

export interface LeftRight {
  readonly sum: Measured;
  /** Left less right. */
  readonly difference: Measured;
}

/**
 * The two sides of an axle together: droop gaps, bump gaps, damper and drop-link lengths, perch threads.
 * Lengths in metre, both from like marks; a gap may be zero, a length below zero is refused.
 */
export const leftRight = ({ left, right }: Sides<Measured>): Outcome<LeftRight> => {
  if (!(left.value >= 0 && right.value >= 0))
    return refused('A length is below zero.', 'Type it without a sign.');
  const u = Math.hypot(left.u, right.u);
  const dof = effectiveDof([left, right]);
  return found({
    sum: measured(left.value + right.value, u, dof),
    difference: measured(left.value - right.value, u, dof),
  });
};
