import type { ControlLimits } from './individualsChart.ts';

export interface TimedValue {
  /** Seconds; only differences are used. In order, equal times allowed. */
  readonly at: number;
  readonly value: number;
}

export interface UnevenEwmaOptions {
  readonly target: number;
  /** Standard deviation of single values. */
  readonly sigma: number;
  /** Seconds in which an old value loses the factor e of its weight. */
  readonly memory: number;
  /** Standard deviations of the average to its limits; 3 by common practice. */
  readonly width: number;
  /** Most that a single new value may weigh, above 0 and at most 1, however long the gap. */
  readonly mostWeight: number;
}

export interface UnevenEwmaPoint {
  readonly average: number;
  readonly limits: ControlLimits;
  readonly outside: boolean;
}

/**
 * Exponentially weighted average of values at uneven times: the weight of the old average fades with
 * the time between, exp(−Δt/memory) (D. J. Wright, Management Science 32 (1986) 499), but a new value
 * never weighs more than `mostWeight`, or the first one after a winter would be a chart of single
 * values. The limits are exact for independent values, by recursion of the variance
 * v′ = (1 − λ)²·v + λ²·σ²; at even times they are those of J. M. Lucas and M. S. Saccucci,
 * Technometrics 32 (1990) 1. The first value weighs as after a gap of `memory`.
 * Throws RangeError on options that are none or times out of order.
 */
export const unevenEwmaChart = (
  values: readonly TimedValue[],
  { target, sigma, memory, width, mostWeight }: UnevenEwmaOptions,
): readonly UnevenEwmaPoint[] => {
  if (!(memory > 0) || !(width > 0) || !(sigma >= 0))
    throw new RangeError('no chart without a memory, a width and a scatter');
  if (!(mostWeight > 0 && mostWeight <= 1)) throw new RangeError(`not a weight: ${mostWeight}`);
  let average = target;
  let variance = 0;
  let before: number | null = null;
  return values.map(({ at, value }) => {
    const gap = before === null ? memory : at - before;
    if (!(gap >= 0)) throw new RangeError(`times out of order: ${before} and ${at}`);
    before = at;
    const weight = Math.min(mostWeight, -Math.expm1(-gap / memory));
    average += weight * (value - average);
    variance = (1 - weight) ** 2 * variance + (weight * sigma) ** 2;
    const reach = width * Math.sqrt(variance);
    return {
      average,
      limits: { centre: target, lower: target - reach, upper: target + reach },
      outside: Math.abs(average - target) > reach,
    };
  });
};
