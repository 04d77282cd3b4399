/**
 * How many lags the memory of a series reaches: the initial positive sequence. Sums of two neighbouring
 * autocovariances of the first `count` residuals (their mean must be zero) are followed to the first
 * that is not positive (C. J. Geyer, Stat. Sci. 7 (1992) 473, section 3.3). About two for a series
 * without memory (lags go in pairs), one without scatter, about the repeats for values repeated by an
 * oversampled converter, a quarter period for a swinging one. At most a sixth of the series: no
 * window is made wider of more (`windowWidth`).
 */
export const correlationLags = (residuals: ArrayLike<number>, count: number): number => {
  let lags = 0;
  for (let lag = 0; lag < count / 6; lag += 2) {
    if (!(pairOfAutocovariances(residuals, count, lag) > 0)) break;
    lags = lag + 2;
  }
  return Math.max(1, lags);
};

/** Sum of the autocovariances at `lag` and the next, times `count`. */
const pairOfAutocovariances = (
  residuals: ArrayLike<number>,
  count: number,
  lag: number,
): number => {
  let sum = (residuals[lag] as number) * (residuals[0] as number);
  let before = residuals[0] as number;
  for (let i = lag + 1; i < count; i += 1) {
    const lagged = residuals[i - lag] as number;
    sum += (residuals[i] as number) * (lagged + before);
    before = lagged;
  }
  return sum;
};
