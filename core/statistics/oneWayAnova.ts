import { moments } from '../signal/moments.ts';
import { fTail } from './fDistribution.ts';

/** One-way analysis of variance. */
export interface OneWayAnova {
  readonly grandMean: number;
  readonly means: readonly number[];
  readonly between: { readonly squares: number; readonly dof: number; readonly meanSquare: number };
  readonly within: { readonly squares: number; readonly dof: number; readonly meanSquare: number };
  readonly f: number;
  /** Probability of so large an F by chance. */
  readonly p: number;
  readonly rSquared: number;
  readonly residualSd: number;
  /** Readings in a group, averaged as unequal groups ask: (N − Σn²/N)/(groups − 1). */
  readonly perGroup: number;
}

/**
 * Analysis of variance of groups of readings; compensated sums, so that leading digits do not hurt
 * (checked on NIST StRD). F is Infinity where nothing scatters within the groups, NaN where nothing
 * scatters at all. Null for fewer than two groups, an empty group, or no group with two readings.
 */
export const oneWayAnova = (groups: readonly (readonly number[])[]): OneWayAnova | null => {
  if (groups.length < 2 || groups.some((group) => group.length === 0)) return null;
  const all = groups.flat();
  const dofWithin = all.length - groups.length;
  if (dofWithin < 1) return null;
  // Differences to one value of the data: exact for values of like size, and leading digits are gone.
  const origin = all[0] as number;
  const each = groups.map((group) => moments(group.map((value) => value - origin)));
  const grand = moments(all.map((value) => value - origin)).mean;
  let between = 0;
  let within = 0;
  for (const { count, mean, sd } of each) {
    between += count * (mean - grand) ** 2;
    if (count > 1) within += (count - 1) * sd ** 2;
  }
  const dofBetween = groups.length - 1;
  const meanSquare = { between: between / dofBetween, within: within / dofWithin };
  const f = meanSquare.between / meanSquare.within;
  const squares = groups.reduce((sum, { length }) => sum + length ** 2, 0);
  return {
    grandMean: origin + grand,
    means: each.map(({ mean }) => origin + mean),
    between: { squares: between, dof: dofBetween, meanSquare: meanSquare.between },
    within: { squares: within, dof: dofWithin, meanSquare: meanSquare.within },
    f,
    p: Number.isNaN(f) ? NaN : fTail(f, dofBetween, dofWithin),
    rSquared: between / (between + within),
    residualSd: Math.sqrt(meanSquare.within),
    perGroup: (all.length - squares / all.length) / dofBetween,
  };
};
