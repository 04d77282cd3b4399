import { logGamma } from '../statistics/incompleteBeta.ts';
import { normalProbability } from '../statistics/incompleteGamma.ts';

/** Factors for control limits of subgroups of one size, from normal values. */
export interface ControlConstants {
  /** Mean and standard deviation of the range, in standard deviations of single values. */
  readonly d2: number;
  readonly d3: number;
  /** Mean of the sample standard deviation, in the same. */
  readonly c4: number;
  /** Limits of the means by mean range and by mean standard deviation. */
  readonly a2: number;
  readonly a3: number;
  /** Limits of the ranges, in mean ranges. */
  readonly rangeLower: number;
  readonly rangeUpper: number;
  /** Limits of the standard deviations, in mean standard deviations. */
  readonly sdLower: number;
  readonly sdUpper: number;
}

/** Beyond this the normal distribution has 1e-15 left. */
const REACH = 8;
const STEP = 0.05;

/**
 * Computed, not tabulated: the range's first two moments by their integrals over the normal
 * distribution (L. H. C. Tippett, Biometrika 17 (1925) 364), c₄ = √(2/(n−1))·Γ(n/2)/Γ((n−1)/2). The
 * trapezoidal rule converges faster than any power where all vanishes at the ends. In the usual
 * letters rangeLower/Upper are D3 and D4, sdLower/Upper B3 and B4 (ISO 7870-2).
 * Throws RangeError unless 2 ≤ size ≤ 25, the range of the published tables.
 */
export const controlConstants = (size: number): ControlConstants => {
  if (!Number.isInteger(size) || size < 2 || size > 25)
    throw new RangeError(`not the size of a subgroup: ${size}`);
  const steps = Math.round((2 * REACH) / STEP);
  const below = Array.from({ length: steps + 1 }, (_, i) => normalProbability(i * STEP - REACH));
  const d2 = STEP * below.reduce((sum, p) => sum + (1 - p ** size - (1 - p) ** size), 0);
  let square = 0;
  for (const [j, high] of below.entries())
    for (let i = 0; i <= j; i += 1) {
      const low = below[i] as number;
      const value = 1 - high ** size - (1 - low) ** size + (high - low) ** size;
      // The rule on a triangle: half a weight on its slanting edge.
      square += (i === j ? 0.5 : 1) * value;
    }
  // The integrand does not vanish on that edge: Euler's and Maclaurin's first term, where the slope
  // across it adds up to −1 for every size.
  const d3 = Math.sqrt(2 * STEP * STEP * (square - 1 / 12) - d2 * d2);
  const c4 = Math.sqrt(2 / (size - 1)) * Math.exp(logGamma(size / 2) - logGamma((size - 1) / 2));
  const spread = (3 * Math.sqrt(1 - c4 * c4)) / c4;
  return {
    d2,
    d3,
    c4,
    a2: 3 / (d2 * Math.sqrt(size)),
    a3: 3 / (c4 * Math.sqrt(size)),
    rangeLower: Math.max(0, 1 - (3 * d3) / d2),
    rangeUpper: 1 + (3 * d3) / d2,
    sdLower: Math.max(0, 1 - spread),
    sdUpper: 1 + spread,
  };
};
