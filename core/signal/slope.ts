/** A straight line through a series in time. */
export interface Slope {
  /** Unit of the values per second. */
  readonly slope: number;
  /** Mean of the times and of the values: the line goes through them. */
  readonly meanTime: number;
  readonly meanValue: number;
  /** Σ(t − t̄)², s². */
  readonly timeSquares: number;
}

/**
 * Least-squares slope of the first `count` values over their times, summed from the first value and
 * time so that digits are kept. NaN slope where all times are equal. Throws RangeError when empty.
 */
export const slope = (
  times: ArrayLike<number>,
  values: ArrayLike<number>,
  count: number = values.length,
): Slope => {
  if (count < 1) throw new RangeError('no values for a slope');
  const t0 = times[0] as number;
  const x0 = values[0] as number;
  let sumT = 0;
  let sumX = 0;
  for (let i = 0; i < count; i += 1) {
    sumT += (times[i] as number) - t0;
    sumX += (values[i] as number) - x0;
  }
  const meanT = sumT / count;
  const meanX = sumX / count;
  let squares = 0;
  let products = 0;
  for (let i = 0; i < count; i += 1) {
    const dt = (times[i] as number) - t0 - meanT;
    squares += dt * dt;
    products += dt * ((values[i] as number) - x0 - meanX);
  }
  return {
    slope: squares > 0 ? products / squares : NaN,
    meanTime: t0 + meanT,
    meanValue: x0 + meanX,
    timeSquares: squares,
  };
};
