import type { JointFit } from './jointFit.ts';
import { FUNCTIONS, SLOW } from './modalBasis.ts';
import { SLOW_SIZE, WARP } from './priors.ts';
import { PARAMETERS } from './priorTerms.ts';

/**
 * Odds that nothing gives way which counts, before anything was seen; own choice, no source, and
 * of little weight once the data speak.
 */
const ODDS_OF_NONE = 3;
/**
 * Standard uncertainty of what is still to give way, as a share of it: that it goes by one
 * exponential is a model. By simulation of lowerings with friction.
 */
const DISTRUST = 0.45;

/** Settled loads of a fit: from the pads' levels, N, and their covariance, N², row by row. */
export interface SettledLoads {
  readonly values: readonly number[];
  readonly covariance: readonly number[];
  /** How fast the slow part moves each load at `after`, N/s. */
  readonly slopes: readonly number[];
}

/**
 * The settled loads of a fit whose covariance is to be multiplied by `scale`, at `after` seconds from its
 * window's beginning: the mean over two answers, one with a slow part and one with none, weighed by
 * the data. A slow part can hardly be told from the final load until the window is long; so much doubt is
 * right where something gives way and far too much where nothing does, and the data show which.
 *
 * The odds change by the Savage–Dickey ratio, posterior over prior density of the slow part's amount
 * along the warp at zero (J. M. Dickey, Ann. Math. Stat. 42 (1971) 204), and the covariance holds
 * that within both answers and that between them.
 */
export const settledLoads = (
  fit: Pick<JointFit, 'coefficients' | 'covariance' | 'shape'>,
  scale: number,
  after: number,
): SettledLoads => {
  const value = (pad: number): number => fit.coefficients[pad * FUNCTIONS] as number;
  const slowOf = (pad: number): number => fit.coefficients[pad * FUNCTIONS + 1] as number;
  const cov = (row: number, column: number): number =>
    scale * (fit.covariance[row * PARAMETERS + column] as number);

  let amount = 0;
  let variance = 0;
  /** Covariance of each settled load with the amount. */
  const shared = WARP.map(() => 0);
  WARP.forEach((ofRow, i) => {
    amount += ofRow * slowOf(i);
    WARP.forEach((ofColumn, j) => {
      variance += ofRow * ofColumn * cov(i * FUNCTIONS + 1, j * FUNCTIONS + 1);
      shared[i] = (shared[i] as number) + ofColumn * cov(i * FUNCTIONS, j * FUNCTIONS + 1);
    });
  });
  const ratio =
    ((2 * SLOW_SIZE) / Math.sqrt(variance)) * Math.exp((-amount * amount) / (2 * variance));
  const none = (ODDS_OF_NONE * ratio) / (1 + ODDS_OF_NONE * ratio);

  const shifts = shared.map((one) => (one / variance) * amount);
  const rate = Math.exp(-(fit.shape[SLOW] as number));
  const left = WARP.map((_, pad) => (1 - none) * slowOf(pad) * Math.exp(-rate * after));
  return {
    values: WARP.map((_, pad) => value(pad) - none * (shifts[pad] as number)),
    covariance: Array.from({ length: 16 }, (_, index) => {
      const i = index >> 2;
      const j = index & 3;
      return (
        cov(i * FUNCTIONS, j * FUNCTIONS) -
        (none * (shared[i] as number) * (shared[j] as number)) / variance +
        none * (1 - none) * (shifts[i] as number) * (shifts[j] as number) +
        DISTRUST ** 2 * (left[i] as number) * (left[j] as number)
      );
    }),
    slopes: left.map((one) => -rate * one),
  };
};
