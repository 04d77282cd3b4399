import { SAMPLE_FLAGS } from '../reading.ts';
import { correlationLags } from './correlationLags.ts';
import { longRunVariance, windowDof, windowWidth } from './longRunCovariance.ts';
import { moments } from './moments.ts';
import { slope } from './slope.ts';

/** A stretch of one stream, oldest first. A value that is not finite is a hole. */
export interface Stretch {
  readonly t: ArrayLike<number>;
  readonly x: ArrayLike<number>;
  /** SAMPLE_FLAGS of each sample; left out, no sample is a spike. */
  readonly flags?: ArrayLike<number>;
}

/** Mean of a stretch and how well it is known. Units of the values. */
export interface Average {
  readonly mean: number;
  /** Standard uncertainty of the mean, autocorrelation allowed for. */
  readonly u: number;
  readonly dof: number;
  /** Sample standard deviation of the values. */
  readonly sd: number;
  readonly samples: number;
  /** Number of independent samples that carry as much, at most `samples`. */
  readonly effectiveSamples: number;
  /** Least-squares drift within the stretch, per second. */
  readonly slope: number;
  /** Lone spikes left out. */
  readonly spikes: number;
}

/**
 * Mean with the standard uncertainty that the stretch itself shows: the long-run variance over as
 * many lags as its memory reaches (`correlationLags`, `longRunVariance`), so that correlated noise,
 * repeated values and swinging do not pass for independent readings. Negative correlation is not used
 * to claim more samples than there are.
 *
 * By simulation the 95 % intervals cover 94 to 98.5 % from 60 samples up for white noise, for
 * first-order autoregressive noise to 0.9 and for values repeated up to eight times; nearly always for
 * a handful of samples, and for a swinging series.
 *
 * Holes and samples flagged as spikes are left out. Null where fewer than two samples are left.
 */
export const average = (stretch: Stretch): Average | null => {
  const kept = keepGood(stretch);
  const n = kept.x.length;
  if (n < 2) return null;
  const { mean, sd } = moments(kept.x);
  const residuals = kept.x.map((value) => value - mean);
  const width = windowWidth(correlationLags(residuals, n), n);
  const longRun = longRunVariance(residuals, n, width);
  const independent = (sd * sd) / n;
  const variance = Math.max(longRun, independent);
  return {
    mean,
    u: Math.sqrt(variance),
    dof: windowDof(width, n),
    sd,
    samples: n,
    effectiveSamples: variance > 0 ? (n * independent) / variance : n,
    slope: slope(kept.t, kept.x).slope,
    spikes: kept.spikes,
  };
};

/** The stretch without holes and spikes, and how many spikes there were. */
export const keepGood = (
  stretch: Stretch,
): { readonly t: Float64Array; readonly x: Float64Array; readonly spikes: number } => {
  const { t, x, flags } = stretch;
  const times = new Float64Array(x.length);
  const values = new Float64Array(x.length);
  let kept = 0;
  let spikes = 0;
  for (let i = 0; i < x.length; i += 1) {
    if ((flags?.[i] ?? 0) & SAMPLE_FLAGS.spike) {
      spikes += 1;
    } else if (Number.isFinite(x[i])) {
      times[kept] = t[i] as number;
      values[kept] = x[i] as number;
      kept += 1;
    }
  }
  return { t: times.subarray(0, kept), x: values.subarray(0, kept), spikes };
};
