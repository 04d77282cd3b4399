/** Mean, sample standard deviation and lag-1 autocorrelation of a series. */
export interface Moments {
  readonly count: number;
  readonly mean: number;
  /** With n − 1; NaN for fewer than two values. */
  readonly sd: number;
  /** Σ(yᵢ−ȳ)(yᵢ₊₁−ȳ)/Σ(yᵢ−ȳ)², as NIST StRD has it; NaN where all values are equal. */
  readonly lag1: number;
}

/**
 * Moments of the first `count` values. Two passes, compensated sums, the mean corrected by the mean of
 * the residuals (T. F. Chan, G. H. Golub, R. J. LeVeque, Am. Stat. 37 (1983) 242), so that a small
 * scatter on a large value keeps its digits. A value that is not finite makes every answer NaN.
 * Throws RangeError for an empty series.
 */
export const moments = (values: ArrayLike<number>, count: number = values.length): Moments => {
  if (count < 1) throw new RangeError('no values to average');
  const origin = values[0] as number;
  let sum = 0;
  let lost = 0;
  for (let i = 0; i < count; i += 1) {
    // Neumaier's variant of Kahan's sum, of the differences to the first value.
    const term = (values[i] as number) - origin;
    const next = sum + term;
    lost += Math.abs(sum) >= Math.abs(term) ? sum - next + term : term - next + sum;
    sum = next;
  }
  const shift = (sum + lost) / count;

  let squares = 0;
  let products = 0;
  let residuals = 0;
  let before = 0;
  for (let i = 0; i < count; i += 1) {
    const residual = (values[i] as number) - origin - shift;
    residuals += residual;
    squares += residual * residual;
    if (i > 0) products += before * residual;
    before = residual;
  }
  squares -= (residuals * residuals) / count;
  return {
    count,
    mean: origin + shift,
    sd: count > 1 ? Math.sqrt(Math.max(0, squares) / (count - 1)) : NaN,
    lag1: squares > 0 ? products / squares : NaN,
  };
};
