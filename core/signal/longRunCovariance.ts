/**
 * Covariance of the means of `rows.length` residual series of equal length (their means must be zero),
 * row by row: the triangular lag window of M. S. Bartlett, Biometrika 37 (1950) 1, for several series
 * W. K. Newey and K. D. West, Econometrica 55 (1987) 703, over `width` lags. It is summed as outer
 * products of moving sums, so it is positive semidefinite by construction.
 *
 * Sample autocovariances are taken about the sample mean and so sum to too little by about the
 * variance of that mean for every lag used: made whole by 1/(1 − width/n), limited to a factor two.
 */
export const longRunCovariance = (rows: readonly Float64Array[], width: number): number[] => {
  const size = rows.length;
  const n = rows[0]?.length ?? 0;
  const total = new Array<number>(size * size).fill(0);
  const moving = new Float64Array(size);
  for (let end = 0; end < n + width - 1; end += 1) {
    for (let i = 0; i < size; i += 1) {
      const row = rows[i] as Float64Array;
      const entering = end < n ? (row[end] as number) : 0;
      const leaving = end >= width ? (row[end - width] as number) : 0;
      moving[i] = (moving[i] as number) + entering - leaving;
    }
    for (let i = 0; i < size; i += 1)
      for (let j = 0; j <= i; j += 1) {
        const at = size * i + j;
        total[at] = (total[at] as number) + (moving[i] as number) * (moving[j] as number);
      }
  }
  const scale = 1 / (n * n * width * (1 - Math.min(0.5, width / n)));
  for (let i = 0; i < size; i += 1)
    for (let j = 0; j <= i; j += 1) {
      const entry = (total[size * i + j] as number) * scale;
      total[size * i + j] = entry;
      total[size * j + i] = entry;
    }
  return total;
};

/** The same for one series of `n` residuals, without allocation: the variance of its mean. */
export const longRunVariance = (residuals: ArrayLike<number>, n: number, width: number): number => {
  // The sum fills, moves along, and empties. `width` is at most `n`.
  let total = 0;
  let moving = 0;
  for (let i = 0; i < width; i += 1) {
    moving += residuals[i] as number;
    total += moving * moving;
  }
  for (let i = width; i < n; i += 1) {
    moving += (residuals[i] as number) - (residuals[i - width] as number);
    total += moving * moving;
  }
  for (let i = n - width; i < n - 1; i += 1) {
    moving -= residuals[i] as number;
    total += moving * moving;
  }
  return total / (n * n * width * (1 - Math.min(0.5, width / n)));
};

/**
 * Width of the window for a series whose autocovariances are positive over `lags` lags: three times
 * that, so that the triangle has lost little where the correlation still is; at most half the series.
 * Chosen by simulation of coverage (see the tests of `average`); no source.
 */
export const windowWidth = (lags: number, n: number): number =>
  Math.max(1, Math.min(3 * lags, Math.floor(n / 2)));

/**
 * Degrees of freedom of such an estimate: n/width − 1, at least one. A triangular window has
 * 1.5·n/width (M. B. Priestley, Spectral Analysis and Time Series, 1981, table 6.2, halved at
 * frequency zero); the rest pays for a width that was itself taken from the data.
 */
export const windowDof = (width: number, n: number): number => Math.max(1, n / width - 1);
