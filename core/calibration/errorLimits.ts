/** Accuracy classes of OIML R 76-1:2006, non-automatic weighing instruments. */
export const ACCURACY_CLASSES = ['I', 'II', 'III', 'IIII'] as const;
export type AccuracyClass = (typeof ACCURACY_CLASSES)[number];

/** Loads in verification intervals e up to which ±0.5 e and ±1 e hold (R 76-1:2006, table 6). */
const STEPS: Readonly<Record<AccuracyClass, readonly [number, number]>> = {
  I: [50_000, 200_000],
  II: [5_000, 20_000],
  III: [500, 2_000],
  IIII: [50, 200],
};

/** Most verification intervals that a class allows (table 3); class I has no most. */
const MOST_INTERVALS: Readonly<Record<AccuracyClass, number>> = {
  I: Infinity,
  II: 100_000,
  III: 10_000,
  IIII: 1_000,
};

export interface ErrorClass {
  readonly accuracy: AccuracyClass;
  /** Verification interval e, kg. */
  readonly interval: number;
  /** In service the limits are twice those of the first verification (R 76-1:2006, 3.5.2). */
  readonly when: 'first verification' | 'in service';
}

/**
 * Largest error allowed at a load, kg, either way (R 76-1:2006, 3.5.1, table 6). Null where the load
 * is beyond the intervals that the class allows. Throws RangeError for a load below zero or an
 * interval that is not above zero.
 */
export const errorLimit = (
  load: number,
  { accuracy, interval, when }: ErrorClass,
): number | null => {
  if (!(load >= 0) || load === Infinity) throw new RangeError(`not a load: ${load}`);
  if (!(interval > 0) || interval === Infinity)
    throw new RangeError(`not an interval: ${interval}`);
  // Loads are typed in decimals: 50 kg over 0.1 kg must be 500, not a little more.
  const intervals = Number((load / interval).toPrecision(12));
  if (intervals > MOST_INTERVALS[accuracy]) return null;
  const [half, whole] = STEPS[accuracy];
  const share = intervals <= half ? 0.5 : intervals <= whole ? 1 : 1.5;
  return share * interval * (when === 'in service' ? 2 : 1);
};

/** One point of a calibration against its limit: masses in kg. */
export interface PointJudged {
  readonly load: number;
  /** Indicated less true. */
  readonly error: number;
  readonly limit: number | null;
  readonly within: boolean;
}

/** Judges every point; a point beyond the class is not within it. */
export const judgePoints = (
  points: readonly { readonly load: number; readonly error: number }[],
  against: ErrorClass,
): readonly PointJudged[] =>
  points.map(({ load, error }) => {
    const limit = errorLimit(load, against);
    return { load, error, limit, within: limit !== null && Math.abs(error) <= limit };
  });
