import { correlationLags } from './correlationLags.ts';
import { longRunVariance, windowDof, windowWidth } from './longRunCovariance.ts';
import { slope } from './slope.ts';
import { studentT } from './studentT.ts';

/** Sixths of the window: a quarter second of the default one, half a period at 2 Hz. */
export const SIXTHS = 6;

/** What one window of one corner shows. Written in place, so that a verdict allocates nothing. */
export interface WindowCheck {
  samples: number;
  /** Newton. */
  mean: number;
  /** Standard uncertainty of the mean from the scatter about the line, autocorrelation allowed for. */
  u: number;
  dof: number;
  /** Newton per second, and its standard error. */
  slope: number;
  slopeError: number;
  /** Drift over the window and its 95 % upper confidence bound, N. */
  drift: number;
  driftBound: number;
  /** Peak to peak of the sixths' means about the line, and what noise alone explains of it, N. */
  wobble: number;
  wobbleByNoise: number;
}

/** A check with nothing in it. */
export const emptyCheck = (): WindowCheck => ({
  samples: 0,
  mean: NaN,
  u: NaN,
  dof: 1,
  slope: NaN,
  slopeError: NaN,
  drift: NaN,
  driftBound: NaN,
  wobble: NaN,
  wobbleByNoise: NaN,
});

/** Two-sided 10 % quantiles: a one-sided 95 % bound. */
const BOUND_QUANTILES = Float64Array.from({ length: 65 }, (_, dof) =>
  dof === 0 ? NaN : studentT(0.1, dof),
);

/**
 * Five standard deviations of the difference of two sixths: the peak to peak of six normal means is
 * below 5 of their standard deviations in 99.5 % (studentised range, six groups: H. L. Harter,
 * Ann. Math. Stat. 31 (1960) 1122).
 */
const RANGE_OF_SIX = 5;

/**
 * Judges the window of `span` seconds that begins after time `from`: `count` samples, at least three,
 * in `times` and `values`; `residuals` is room for as many.
 *
 * The standard error of the slope is that of white noise with the long-run variance in the place of
 * the variance (the limit for any short memory: U. Grenander, Ann. Math. Stat. 25 (1954) 252). Fitting
 * a line takes two parameters' worth out of that variance, put back like the one of a mean.
 * The noise floor of the wobble comes from successive differences (J. von Neumann, Ann. Math. Stat.
 * 12 (1941) 367), in which slow motion has no part; values that an oversampled converter repeats count
 * once, so that they do not make the floor look lower than it is.
 */
export const checkWindow = (
  series: {
    readonly times: Float64Array;
    readonly values: Float64Array;
    readonly residuals: Float64Array;
    readonly count: number;
    readonly from: number;
    readonly span: number;
  },
  out: WindowCheck,
): void => {
  const { times, values, residuals, count, from, span } = series;
  const line = slope(times, values, count);
  let changes = 0;
  let differences = 0;
  for (let i = 0; i < count; i += 1) {
    const value = values[i] as number;
    residuals[i] = value - line.meanValue - line.slope * ((times[i] as number) - line.meanTime);
    if (i > 0 && value !== values[i - 1]) {
      changes += 1;
      differences += ((residuals[i] as number) - (residuals[i - 1] as number)) ** 2;
    }
  }
  const width = windowWidth(correlationLags(residuals, count), count);
  const share = Math.min(0.25, width / count);
  const variance = (longRunVariance(residuals, count, width) * (1 - share)) / (1 - 2 * share);
  const slopeError = Math.sqrt((variance * count) / line.timeSquares);
  const dof = windowDof(width, count);
  const quantile = BOUND_QUANTILES[Math.min(64, Math.floor(dof))] as number;

  out.samples = count;
  out.mean = line.meanValue;
  out.u = Math.sqrt(variance);
  out.dof = dof;
  out.slope = line.slope;
  out.slopeError = slopeError;
  out.drift = Math.abs(line.slope) * span;
  out.driftBound = (Math.abs(line.slope) + quantile * slopeError) * span;
  out.wobble = sixthsRange(times, residuals, { count, from, span });
  const noise = changes > 0 ? differences / (2 * changes) : 0;
  out.wobbleByNoise = RANGE_OF_SIX * Math.sqrt((noise * SIXTHS) / Math.max(SIXTHS, changes));
};

/**
 * Peak to peak of the means of the sixths of `span` seconds after `from`; sixths without a sample are
 * left out. Zero where fewer than two have one.
 */
export const sixthsRange = (
  times: Float64Array,
  values: Float64Array,
  window: { readonly count: number; readonly from: number; readonly span: number },
): number => {
  const { count, from, span } = window;
  let low = Infinity;
  let high = -Infinity;
  let sum = 0;
  let held = 0;
  let sixth = 0;
  for (let i = 0; i <= count; i += 1) {
    const at =
      i < count
        ? Math.min(SIXTHS - 1, Math.floor((((times[i] as number) - from) / span) * SIXTHS))
        : SIXTHS;
    if (at !== sixth) {
      if (held > 0) {
        low = Math.min(low, sum / held);
        high = Math.max(high, sum / held);
      }
      sum = 0;
      held = 0;
      sixth = at;
    }
    if (i < count) {
      sum += values[i] as number;
      held += 1;
    }
  }
  return high > low ? high - low : 0;
};
