/**
 * How many lags the memory of a series reaches: the initial positive sequence. Sums of two neighbouring
 * autocovariances of the first `count` residuals (their mean must be zero) are followed to the first
 * that is not positive (C. J. Geyer, Stat. Sci. 7 (1992) 473, section 3.3). About two for a series
 * without memory (lags go in pairs), one without scatter, about the repeats for values repeated by an
 * oversampled converter, a quarter period for a swinging one. At most half the series.
 */
export const correlationLags = (residuals: ArrayLike<number>, count: number): number => {
  const zero = autocovariance(residuals, count, 0);
  if (!(zero > 0)) return 1;
  let lags = 0;
  for (let lag = 0; lag + 1 <= count / 2; lag += 2) {
    const even = lag === 0 ? zero : autocovariance(residuals, count, lag);
    const pair = even + autocovariance(residuals, count, lag + 1);
    if (!(pair > 0)) break;
    lags = lag + 2;
  }
  return Math.max(1, lags);
};

const autocovariance = (residuals: ArrayLike<number>, count: number, lag: number): number => {
  let sum = 0;
  for (let i = lag; i < count; i += 1)
    sum += (residuals[i] as number) * (residuals[i - lag] as number);
  return sum / count;
};
