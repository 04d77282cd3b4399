import type { FitPad } from './jointFit.ts';

/** What the residuals of a fit say of it. */
export interface Adequacy {
  /**
   * How far the residuals are over what noise makes, 1 the limit: of their size against the quiet
   * noise, of the newest of them, of their memory.
   */
  readonly failing: number;
  /** Variance of the residuals over the stated noise, the quiet noise's own knowledge pooled in. */
  readonly variance: number;
  readonly dof: number;
  /** By how much the memory of the residuals makes the variance of a mean larger; at least 1. */
  readonly inflation: number;
}

/** Standard errors by which the size of residuals may be above that of the noise. */
const SIGMAS = 2.6;
/** Beyond that, so much larger a variance is borne: no noise is quite steady. */
const SLACK = 1.15;
/** The newest stretch that is judged by itself, s, and its limit: chi-squared of 4 over 99.9 %. */
const NEWEST = 0.08;
const NEWEST_LIMIT = 18.5;
/** The longest memory that is followed, samples, and the largest inflation that passes. */
const LONGEST_MEMORY = 12;
const MOST_INFLATION = 5;
/** The quiet noise counts for no more than this: it is of another time. */
const MOST_QUIET_DOF = 60;

/**
 * Judges a fit by its residuals, its noise being the quiet noise with `quietDof` degrees of freedom (0
 * where that is not known: then the noise is a guess, and only memory and the newest can fail it).
 */
export const judgeFit = (
  pads: readonly FitPad[],
  determined: number,
  quietDof: number,
): Adequacy => {
  let samples = 0;
  let squares = 0;
  for (const { residuals, count, noise } of pads) {
    samples += count;
    for (let i = 0; i < count; i += 1) squares += ((residuals[i] as number) / noise) ** 2;
  }
  const dof = samples - determined;
  const own = squares / dof;
  const inflation = memoryOf(pads, squares, samples);
  const known = Math.min(quietDof, MOST_QUIET_DOF);
  const variance = (squares + known) / (dof + known);

  const limit = SLACK + SIGMAS * Math.sqrt(2 / dof + 2 / Math.max(1, quietDof));
  const size = quietDof > 0 ? own / limit : 0;
  const newest = newestOf(pads) / (NEWEST_LIMIT * inflation * (quietDof > 0 ? 1 : own));
  return {
    failing: Math.max(size, newest, inflation / MOST_INFLATION),
    variance,
    dof: (dof + known) / inflation,
    inflation,
  };
};

/** Squared sums of the newest residuals over their noise, added up over the pads. */
const newestOf = (pads: readonly FitPad[]): number => {
  let total = 0;
  for (const { times, residuals, count, noise } of pads) {
    let sum = 0;
    let n = 0;
    const after = (times[count - 1] as number) - NEWEST;
    for (let i = count - 1; i >= 0 && (times[i] as number) > after; i -= 1) {
      sum += (residuals[i] as number) / noise;
      n += 1;
    }
    total += (sum * sum) / Math.max(1, n);
  }
  return total;
};

/**
 * 1 + 2·(autocorrelations of all pads together, pair by pair while they are above what chance makes of
 * white noise, one standard deviation), after `correlationLags`.
 */
const memoryOf = (pads: readonly FitPad[], squares: number, samples: number): number => {
  const byChance = squares * Math.sqrt(2 / samples);
  let sum = 1;
  for (let lag = 1; lag <= LONGEST_MEMORY; lag += 2) {
    const pair = lagged(pads, lag) + lagged(pads, lag + 1);
    if (!(pair > byChance)) break;
    sum += (2 * pair) / squares;
  }
  return Math.max(1, sum);
};

const lagged = (pads: readonly FitPad[], lag: number): number => {
  let total = 0;
  for (const { residuals, count, noise } of pads) {
    let sum = 0;
    for (let i = lag; i < count; i += 1)
      sum += (residuals[i] as number) * (residuals[i - lag] as number);
    total += sum / (noise * noise);
  }
  return total;
};
