import type { PadRating, PadSample, Reading } from '../reading.ts';
import { newton, STANDARD_GRAVITY, type Newton } from '../units.ts';
import type { Curve } from './polynomialFit.ts';

/**
 * How a pad's counts become newtons. The seam at which a calibration with reference masses takes
 * the place of the maker's rating; everything downstream sees only this.
 */
export interface Calibration {
  /** Record of the calibration; null while the pad has only its rating. */
  readonly id: string | null;
  /** False where the span is only the maker's rating: shown with every number made of it. */
  readonly calibrated: boolean;
  /**
   * Polynomial of the counts over zero, without a constant (zero counts over zero is no force):
   * the k-th entry, from k = 0, is in newton per count^(k+1). One to three entries.
   */
  readonly coefficients: readonly number[];
  /** Relative standard uncertainty of the force; null where nothing is known of it. */
  readonly uRelative: number | null;
  /** Counts over zero as a curve of the force, with its covariance; absent for a rating. */
  readonly curve?: Curve;
  /** Relative standard uncertainty of the masses or the pad in series, common to all points. */
  readonly uApplied?: number | null;
  /** Reason written for its use in spite of what was found against it: it stays marked. */
  readonly inSpiteOf?: string;
}

/**
 * The span by the pad's own rating: rated load × standard gravity over the counts it adds. Marked
 * not calibrated. Throws RangeError on a rating that gives no span.
 */
export const nominalCalibration = (rating: PadRating): Calibration => {
  const span = (rating.ratedLoad * STANDARD_GRAVITY) / rating.countsAtRatedLoad;
  if (!Number.isFinite(span) || span === 0)
    throw new RangeError(`no span in ${rating.ratedLoad} kg at ${rating.countsAtRatedLoad} counts`);
  return { id: null, calibrated: false, coefficients: [span], uRelative: null };
};

/** Counts as a force in newton, gravity still in it. Throws RangeError on counts not finite. */
export const toForce = (calibration: Calibration, zeroCounts: number, counts: number): Newton => {
  const { coefficients } = calibration;
  const over = counts - zeroCounts;
  let force = 0;
  for (let k = coefficients.length - 1; k >= 0; k -= 1)
    force = (force + (coefficients[k] as number)) * over;
  return newton(force);
};

/**
 * Slope of the calibration at these counts, newton per count: what one count more adds, and by what
 * an uncertainty of the zero or of the mean counts is multiplied.
 */
export const forcePerCount = (
  calibration: Calibration,
  zeroCounts: number,
  counts: number,
): number => {
  const { coefficients } = calibration;
  const over = counts - zeroCounts;
  let slope = 0;
  for (let k = coefficients.length - 1; k >= 0; k -= 1)
    slope = slope * over + (k + 1) * (coefficients[k] as number);
  return slope;
};

/** A sample as a force, both the clean and the smooth value. */
export const toReading = (
  sample: PadSample,
  calibration: Calibration,
  zeroCounts: number,
): Reading => ({
  t: sample.t,
  clean: toForce(calibration, zeroCounts, sample.clean),
  smooth: toForce(calibration, zeroCounts, sample.smooth),
  flags: sample.flags,
});
