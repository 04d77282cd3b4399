import { correlationLags } from './correlationLags.ts';
import { longRunVariance, windowDof, windowWidth } from './longRunCovariance.ts';
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
  /** Peak to peak of the sixths' means about the line, N. */
  wobble: number;
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
});

/** Two-sided 10 % quantiles: a one-sided 95 % bound. */
const BOUND_QUANTILES = Float64Array.from({ length: 65 }, (_, dof) =>
  dof === 0 ? NaN : studentT(0.1, dof),
);

/** The samples of a window: `count` of them, at least three, from index `start` of the arrays. */
export interface WindowSeries {
  readonly times: Float64Array;
  readonly values: Float64Array;
  /** Room for `count` numbers. */
  readonly residuals: Float64Array;
  readonly start: number;
  readonly count: number;
  /** The window begins after this time and lasts `span`, s. */
  readonly from: number;
  readonly span: number;
}

/**
 * Judges one window.
 *
 * The standard error of the slope is that of white noise with the long-run variance in the place of
 * the variance (the limit for any short memory: U. Grenander, Ann. Math. Stat. 25 (1954) 252). Fitting
 * a line takes two parameters' worth out of that variance, put back like the one of a mean.
 * Sixths without a sample are left out of the wobble.
 */
export const checkWindow = (series: WindowSeries, out: WindowCheck): void => {
  const { times, values, residuals, start, count, from, span } = series;
  const t0 = times[start] as number;
  const x0 = values[start] as number;
  let sumT = 0;
  let sumX = 0;
  let sumTT = 0;
  let sumTX = 0;
  for (let i = 0; i < count; i += 1) {
    const t = (times[start + i] as number) - t0;
    const x = (values[start + i] as number) - x0;
    sumT += t;
    sumX += x;
    sumTT += t * t;
    sumTX += t * x;
  }
  const timeSquares = sumTT - (sumT * sumT) / count;
  const slope = (sumTX - (sumT * sumX) / count) / timeSquares;
  const level = (sumX - slope * sumT) / count;

  let lowest = Infinity;
  let highest = -Infinity;
  let sixthEnd = from + span / SIXTHS - t0;
  let inSixth = 0;
  let sixthSum = 0;
  for (let i = 0; i < count; i += 1) {
    const t = (times[start + i] as number) - t0;
    const x = (values[start + i] as number) - x0;
    const residual = x - level - slope * t;
    residuals[i] = residual;
    while (t > sixthEnd) {
      if (inSixth > 0) {
        lowest = Math.min(lowest, sixthSum / inSixth);
        highest = Math.max(highest, sixthSum / inSixth);
      }
      inSixth = 0;
      sixthSum = 0;
      sixthEnd += span / SIXTHS;
    }
    inSixth += 1;
    sixthSum += residual;
  }
  lowest = Math.min(lowest, sixthSum / inSixth);
  highest = Math.max(highest, sixthSum / inSixth);

  const width = windowWidth(correlationLags(residuals, count), count);
  const share = Math.min(0.25, width / count);
  const variance = (longRunVariance(residuals, count, width) * (1 - share)) / (1 - 2 * share);
  const slopeError = Math.sqrt((variance * count) / timeSquares);
  const dof = windowDof(width, count);
  const quantile = BOUND_QUANTILES[Math.min(64, Math.floor(dof))] as number;

  out.samples = count;
  out.mean = x0 + sumX / count;
  out.u = Math.sqrt(variance);
  out.dof = dof;
  out.slope = slope;
  out.slopeError = slopeError;
  out.drift = Math.abs(slope) * span;
  out.driftBound = (Math.abs(slope) + quantile * slopeError) * span;
  out.wobble = highest - lowest;
};
