/** Allan deviation of averages over one time. */
export interface AllanPoint {
  /** Values averaged; times the spacing it is the averaging time. */
  readonly averaged: number;
  readonly deviation: number;
  /** Differences that it rests on; overlapping ones are not independent. */
  readonly differences: number;
}

/**
 * Allan deviation of evenly spaced values: half the mean square of the difference of neighbouring
 * averages of `averaged` values, the root of it. Overlapping: at every start instead of every
 * `averaged`-th, which wastes nothing (IEEE Std 1139-2008; NIST SP 1065, 5.2.4). White noise falls with
 * the root of the averaging time; where the curve turns up, drift has the better of averaging.
 *
 * A hole (null) is never bridged: averages that have one are left out. Null where no difference is
 * left. Throws RangeError unless `averaged` is a whole number from 1.
 */
export const allanDeviation = (
  values: readonly (number | null)[],
  averaged: number,
  kind: 'overlapping' | 'plain' = 'overlapping',
): AllanPoint | null => {
  if (!Number.isInteger(averaged) || averaged < 1)
    throw new RangeError(`not a number of values to average: ${averaged}`);
  // Sums from the first reading, so that a large level does not cost digits.
  const origin = values.find((value) => value !== null) ?? 0;
  const sums = new Float64Array(values.length + 1);
  const holes = new Int32Array(values.length + 1);
  for (const [i, value] of values.entries()) {
    sums[i + 1] = (sums[i] as number) + (value === null ? 0 : value - origin);
    holes[i + 1] = (holes[i] as number) + (value === null ? 1 : 0);
  }
  let squares = 0;
  let differences = 0;
  const stride = kind === 'overlapping' ? 1 : averaged;
  for (let i = 0; i + 2 * averaged <= values.length; i += stride) {
    const end = i + 2 * averaged;
    if (holes[end] !== holes[i]) continue;
    const difference =
      (sums[end] as number) - 2 * (sums[i + averaged] as number) + (sums[i] as number);
    squares += (difference / averaged) ** 2;
    differences += 1;
  }
  if (differences === 0) return null;
  return { averaged, deviation: Math.sqrt(squares / (2 * differences)), differences };
};

/** Overlapping deviations at 1, 2, 4, … values, up to a quarter of the series. */
export const allanCurve = (values: readonly (number | null)[]): readonly AllanPoint[] => {
  const curve: AllanPoint[] = [];
  for (let averaged = 1; 4 * averaged <= values.length; averaged *= 2) {
    const point = allanDeviation(values, averaged);
    if (point) curve.push(point);
  }
  return curve;
};
