import { chiSquaredQuantile } from './chiSquaredQuantile.ts';
import { fTail } from './fDistribution.ts';
import { findRoot } from './findRoot.ts';

/**
 * Ratio of variances that Fisher's distribution exceeds with probability `tail`; with d2 infinite
 * chi-squared over its degrees of freedom. Throws RangeError unless 0 < tail < 1 and both degrees of
 * freedom are above zero, d1 finite.
 */
export const fQuantile = (tail: number, d1: number, d2: number): number => {
  if (!(tail > 0 && tail < 1)) throw new RangeError(`not a tail: ${tail}`);
  if (!(d1 > 0) || d1 === Infinity || !(d2 > 0))
    throw new RangeError(`not degrees of freedom: ${d1}, ${d2}`);
  if (d2 === Infinity) return chiSquaredQuantile(tail, d1) / d1;
  // The logarithm of the odds against the logarithm of f is nearly straight.
  const odds = (p: number): number => Math.log(p) - Math.log1p(-p);
  const bounded = (p: number): number => Math.min(1 - 1e-16, Math.max(1e-300, p));
  const wanted = odds(tail);
  const log = findRoot((x) => odds(bounded(fTail(Math.exp(x), d1, d2))) - wanted, -80, 80);
  return Math.exp(log);
};
