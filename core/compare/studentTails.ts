import { fQuantile } from '../statistics/fQuantile.ts';
import { fTail } from '../statistics/fDistribution.ts';
import { incompleteGamma } from '../statistics/incompleteGamma.ts';

/**
 * Student's t with degrees of freedom that need not be whole, Infinity for the normal distribution.
 * All throw RangeError on degrees of freedom not above zero.
 */

/** Beyond these the normal distribution is right to more digits than anything here needs. */
const NORMAL_FROM = 1e8;

/** Probability that |T| is above |t|. */
export const twoSidedTail = (t: number, dof: number): number => {
  if (!(dof > 0)) throw new RangeError(`not degrees of freedom: ${dof}`);
  if (Math.abs(t) === Infinity) return 0;
  return dof > NORMAL_FROM ? 1 - incompleteGamma(0.5, (t * t) / 2) : fTail(t * t, 1, dof);
};

/** Probability that T is above t. */
export const upperTail = (t: number, dof: number): number => {
  const half = twoSidedTail(t, dof) / 2;
  return t >= 0 ? half : 1 - half;
};

/** The t that |T| exceeds with probability `tail`. */
export const twoSidedQuantile = (tail: number, dof: number): number =>
  Math.sqrt(fQuantile(tail, 1, dof));
