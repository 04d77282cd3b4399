export interface CusumOptions {
  readonly target: number;
  /** Slack k: half the shift that matters, in the unit of the values. */
  readonly slack: number;
  /** Decision height h, in the unit of the values. */
  readonly height: number;
}

export interface CusumChart {
  /** Accumulated excess above target + slack, and below target − slack; neither below zero. */
  readonly high: readonly number[];
  readonly low: readonly number[];
  /** Position of the first value at which either is above the height, or null. */
  readonly firstSignal: number | null;
  /**
   * Where the sum that signals last stood at zero, plus one: the first value of the shift, by the
   * usual estimate. Null without a signal.
   */
  readonly shiftBegan: number | null;
}

/**
 * Tabular cumulative sum (NIST/SEMATECH e-Handbook 6.3.2.3; E. S. Page, Biometrika 41 (1954) 100): the
 * quickest to find a lasting small shift of known size, and it tells when that began.
 * Throws RangeError for a slack or height that is none.
 */
export const cusumChart = (
  values: readonly number[],
  { target, slack, height }: CusumOptions,
): CusumChart => {
  if (!(slack >= 0) || !(height > 0))
    throw new RangeError('no slack or height for a cumulative sum');
  const high: number[] = [];
  const low: number[] = [];
  let [up, down] = [0, 0];
  let [upFrom, downFrom] = [0, 0];
  let firstSignal: number | null = null;
  let shiftBegan: number | null = null;
  for (const [index, value] of values.entries()) {
    up = Math.max(0, up + value - target - slack);
    down = Math.max(0, down - value + target - slack);
    if (up === 0) upFrom = index + 1;
    if (down === 0) downFrom = index + 1;
    high.push(up);
    low.push(down);
    if (firstSignal === null && (up > height || down > height)) {
      firstSignal = index;
      shiftBegan = up > height ? upFrom : downFrom;
    }
  }
  return { high, low, firstSignal, shiftBegan };
};
