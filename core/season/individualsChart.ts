import { moments } from '../signal/moments.ts';

/** Expected range of two normal values over their standard deviation: 2/√π. */
const D2 = 2 / Math.sqrt(Math.PI);

export interface ControlLimits {
  readonly centre: number;
  readonly lower: number;
  readonly upper: number;
}

/**
 * Shewhart chart of single values: centre the mean, limits three standard deviations away, which
 * are taken from the mean moving range of two (NIST/SEMATECH e-Handbook 6.3.2.2), so that a slow
 * drift within the base does not widen them. Null for fewer than two values.
 */
export const individualsLimits = (base: readonly number[]): ControlLimits | null => {
  if (base.length < 2) return null;
  const ranges = base.slice(1).map((value, index) => Math.abs(value - (base[index] as number)));
  const sigma = moments(ranges).mean / D2;
  const centre = moments(base).mean;
  return { centre, lower: centre - 3 * sigma, upper: centre + 3 * sigma };
};
