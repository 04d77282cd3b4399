import { moments } from '../signal/moments.ts';
import { controlConstants } from './controlConstants.ts';

/** Expected range of two normal values over their standard deviation: 2/√π. */
const D2 = 2 / Math.sqrt(Math.PI);

export interface ControlLimits {
  readonly centre: number;
  readonly lower: number;
  readonly upper: number;
}

/** Limits of single values and of the steps between neighbours, from a base. */
export interface IndividualsChart {
  readonly limits: ControlLimits;
  /** Standard deviation of single values, from the mean moving range. */
  readonly sigma: number;
  /** Mean moving range, and the largest that chance allows (D4 of subgroups of two). */
  readonly rangeMean: number;
  readonly rangeUpper: number;
  /** Values the limits rest on. */
  readonly baseCount: number;
}

/** Absolute steps between neighbours. */
export const movingRanges = (values: readonly number[]): readonly number[] =>
  values.slice(1).map((value, index) => Math.abs(value - (values[index] as number)));

/**
 * Shewhart chart of single values: centre the mean, limits three standard deviations away, which
 * are taken from the mean moving range of two (NIST/SEMATECH e-Handbook 6.3.2.2), so that a slow
 * drift within the base does not widen them. Null for fewer than two values.
 */
export const individualsChart = (base: readonly number[]): IndividualsChart | null => {
  if (base.length < 2) return null;
  const rangeMean = moments(movingRanges(base)).mean;
  const sigma = rangeMean / D2;
  const centre = moments(base).mean;
  return {
    limits: { centre, lower: centre - 3 * sigma, upper: centre + 3 * sigma },
    sigma,
    rangeMean,
    rangeUpper: controlConstants(2).rangeUpper * rangeMean,
    baseCount: base.length,
  };
};

/** The limits alone. */
export const individualsLimits = (base: readonly number[]): ControlLimits | null =>
  individualsChart(base)?.limits ?? null;
