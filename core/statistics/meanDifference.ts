import { measured, type Measured } from '../measured.ts';
import type { Moments } from '../signal/moments.ts';
import { moments } from '../signal/moments.ts';
import { fQuantile } from './fQuantile.ts';
import { fTail } from './fDistribution.ts';

/** Difference of two means, first less second, held against zero. */
export interface MeanDifference {
  readonly difference: Measured;
  readonly t: number;
  /** Probability, on both sides, of so large a t by chance. */
  readonly p: number;
  /** 95 % interval of the difference, degrees of freedom not rounded. */
  readonly lower: number;
  readonly upper: number;
}

type Sample = Pick<Moments, 'count' | 'mean' | 'sd'>;

const against = (value: number, u: number, dof: number): MeanDifference => {
  const t = value / u;
  const reach = Math.sqrt(fQuantile(0.05, 1, dof)) * u;
  return {
    difference: measured(value, u, dof),
    t,
    p: fTail(t * t, 1, dof),
    lower: value - reach,
    upper: value + reach,
  };
};

const usable = (...samples: readonly Sample[]): boolean =>
  samples.every(({ count }) => count >= 2) && samples.some(({ sd }) => sd > 0);

/**
 * Two independent samples whose scatter may differ: B. L. Welch, Biometrika 34 (1947) 28, the
 * degrees of freedom by Satterthwaite. Null for fewer than two readings in either, or no scatter.
 */
export const welchDifference = (a: Sample, b: Sample): MeanDifference | null => {
  if (!usable(a, b)) return null;
  const [va, vb] = [a.sd ** 2 / a.count, b.sd ** 2 / b.count];
  const dof = (va + vb) ** 2 / (va ** 2 / (a.count - 1) + vb ** 2 / (b.count - 1));
  return against(a.mean - b.mean, Math.sqrt(va + vb), dof);
};

/** Two independent samples of one common scatter (NIST/SEMATECH e-Handbook 1.3.5.3). Null as Welch. */
export const pooledDifference = (a: Sample, b: Sample): MeanDifference | null => {
  if (!usable(a, b)) return null;
  const dof = a.count + b.count - 2;
  const variance = ((a.count - 1) * a.sd ** 2 + (b.count - 1) * b.sd ** 2) / dof;
  return against(a.mean - b.mean, Math.sqrt(variance * (1 / a.count + 1 / b.count)), dof);
};

/**
 * Readings that belong together in pairs, such as the same car before and after on the same pads: what
 * a pair shares is not in the scatter. Null for unequal lengths, fewer than two pairs or no scatter.
 */
export const pairedDifference = (
  a: readonly number[],
  b: readonly number[],
): MeanDifference | null => {
  if (a.length !== b.length || a.length < 2) return null;
  const { mean, sd, count } = moments(a.map((value, index) => value - (b[index] as number)));
  return sd > 0 ? against(mean, sd / Math.sqrt(count), count - 1) : null;
};
