import { findRoot } from './findRoot.ts';
import { incompleteGamma } from './incompleteGamma.ts';

/**
 * Value that chi-squared with these degrees of freedom exceeds with probability `tail`, from the
 * incomplete gamma function P(ν/2, x/2). Throws RangeError unless 0 < tail < 1 and 0 < dof < Infinity.
 */
export const chiSquaredQuantile = (tail: number, dof: number): number => {
  if (!(tail > 0 && tail < 1)) throw new RangeError(`not a tail: ${tail}`);
  if (!(dof > 0) || dof === Infinity) throw new RangeError(`not degrees of freedom: ${dof}`);
  // In the logarithm: the small quantiles of few degrees of freedom span many decades.
  const logX = findRoot(
    (log) => 1 - tail - incompleteGamma(dof / 2, Math.exp(log) / 2),
    Math.log(dof) - 2000 / Math.max(1, dof),
    Math.log(dof + 200 + 40 * Math.sqrt(dof)),
  );
  return Math.exp(logX);
};
