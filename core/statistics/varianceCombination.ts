import { chiSquaredQuantile } from './chiSquaredQuantile.ts';
import { fQuantile } from './fQuantile.ts';

/** A mean square of an analysis of variance and what it counts with in a combination. */
export interface WeightedMeanSquare {
  readonly coefficient: number;
  readonly meanSquare: number;
  readonly dof: number;
}

/** A variance made of mean squares, and the standard deviation that it means. */
export interface VarianceEstimate {
  /** As estimated; a component that is a difference may come out below zero. */
  readonly variance: number;
  /** √variance; zero where the estimate is not above zero, which is then all that can be said. */
  readonly sd: number;
  /** By Satterthwaite, Biometrics Bulletin 2 (1946) 110; Infinity where nothing scatters. */
  readonly dof: number;
  /** Bounds of the standard deviation with 95 % coverage, half of the rest on each side. */
  readonly lower: number;
  readonly upper: number;
}

const TAIL = 0.025;

/**
 * Linear combination of independent mean squares with an interval. One mean square alone: the exact
 * chi-squared interval. Several: the modified large-sample interval, for sums F. A. Graybill and
 * C.-M. Wang, J. Am. Stat. Assoc. 75 (1980) 869, for differences N. Ting, R. K. Burdick et al.,
 * J. Stat. Comput. Simul. 35 (1990) 135, without its terms for several mean squares of one sign,
 * which only narrow it. Parts with coefficient zero are left out. Throws RangeError for none.
 */
export const varianceCombination = (all: readonly WeightedMeanSquare[]): VarianceEstimate => {
  const parts = all.filter(({ coefficient }) => coefficient !== 0);
  if (parts.length === 0) throw new RangeError('no mean squares to combine');
  for (const { meanSquare, dof } of parts)
    if (!(meanSquare >= 0) || meanSquare === Infinity || !(dof > 0) || dof === Infinity)
      throw new RangeError(`not a mean square: ${meanSquare} with ${dof} degrees of freedom`);
  const sizes = parts.map(({ coefficient, meanSquare }) => Math.abs(coefficient) * meanSquare);
  const variance = parts.reduce(
    (sum, { coefficient, meanSquare }) => sum + coefficient * meanSquare,
    0,
  );
  const fourths = parts.reduce((sum, { dof }, i) => sum + (sizes[i] as number) ** 2 / dof, 0);

  let below = 0;
  let above = 0;
  for (const [i, q] of parts.entries()) {
    const size = sizes[i] as number;
    const g = 1 - q.dof / chiSquaredQuantile(TAIL, q.dof);
    const h = q.dof / chiSquaredQuantile(1 - TAIL, q.dof) - 1;
    const positive = q.coefficient > 0;
    below += ((positive ? g : h) * size) ** 2;
    above += ((positive ? h : g) * size) ** 2;
    if (!positive) continue;
    for (const [j, r] of parts.entries()) {
      if (r.coefficient > 0) continue;
      const other = sizes[j] as number;
      const gr = 1 - r.dof / chiSquaredQuantile(TAIL, r.dof);
      const hr = r.dof / chiSquaredQuantile(1 - TAIL, r.dof) - 1;
      const high = fQuantile(TAIL, q.dof, r.dof);
      const low = fQuantile(1 - TAIL, q.dof, r.dof);
      below += (((high - 1) ** 2 - (g * high) ** 2 - hr ** 2) / high) * size * other;
      above += (((1 - low) ** 2 - (h * low) ** 2 - gr ** 2) / low) * size * other;
    }
  }
  const root = (value: number): number => Math.sqrt(Math.max(0, value));
  return {
    variance,
    sd: root(variance),
    dof: fourths > 0 && variance !== 0 ? variance ** 2 / fourths : Infinity,
    lower: root(variance - root(below)),
    upper: root(variance + root(above)),
  };
};
