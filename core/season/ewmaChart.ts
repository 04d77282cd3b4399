import type { ControlLimits } from './individualsChart.ts';

export interface EwmaOptions {
  /** Where the series ought to lie. */
  readonly target: number;
  /** Standard deviation of single values, known from a base. */
  readonly sigma: number;
  /** Weight of the newest value, above 0 and at most 1; 0.2 to 0.3 by common practice. */
  readonly weight: number;
  /** Standard deviations of the average to the limits; 3 by common practice. */
  readonly width: number;
}

export interface EwmaChart {
  /** The average after each value. */
  readonly averages: readonly number[];
  /** Limits of a series that has run for long: target ± width·σ·√(λ/(2 − λ)). */
  readonly limits: ControlLimits;
  /** Positions of the averages outside the limits. */
  readonly outside: readonly number[];
}

/**
 * Exponentially weighted moving average: sees small lasting shifts that a chart of single values
 * misses (NIST/SEMATECH e-Handbook 6.3.2.4). Throws RangeError on options that are none.
 */
export const ewmaChart = (values: readonly number[], options: EwmaOptions): EwmaChart => {
  const { target, sigma, weight, width } = options;
  if (!(weight > 0 && weight <= 1)) throw new RangeError(`not a weight: ${weight}`);
  if (!(sigma >= 0) || !(width > 0)) throw new RangeError('no limits without a scatter');
  const reach = width * sigma * Math.sqrt(weight / (2 - weight));
  const limits = { centre: target, lower: target - reach, upper: target + reach };
  let average = target;
  const averages = values.map((value) => (average = weight * value + (1 - weight) * average));
  const outside = averages.flatMap((each, index) =>
    each < limits.lower || each > limits.upper ? [index] : [],
  );
  return { averages, limits, outside };
};
