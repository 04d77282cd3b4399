import type { CalibrationRecord, Finding } from '../contract/calibrationRecord.ts';
import type { PadRating } from '../reading.ts';
import type { Part } from '../uncertainty/combine.ts';
import { nominalCalibration, type Calibration } from './calibration.ts';
import { predictionAt } from './curveUse.ts';
import type { Curve } from './polynomialFit.ts';

/** What stands against the use of a calibration. */
export const refusalsOf = ({ findings }: CalibrationRecord): readonly Finding[] =>
  findings.filter(({ weight }) => weight === 'refuses');

/**
 * Whether it may be used: it has a curve, and nothing refuses it, or a reason is written beside what
 * does.
 */
export const isForUse = (record: CalibrationRecord): boolean =>
  record.coefficients !== null && (refusalsOf(record).length === 0 || record.inSpiteOf !== null);

/** The record with a reason for its use written beside it; null for a blank reason or no curve at all. */
export const withReason = (record: CalibrationRecord, reason: string): CalibrationRecord | null =>
  reason.trim() === '' || record.coefficients === null
    ? null
    : { ...record, inSpiteOf: reason.trim().slice(0, 400) };

/** The curve of a record's fit; null where it has none, as a rating. */
export const curveOf = ({ fit }: Pick<CalibrationRecord, 'fit'>): Curve | null =>
  fit && {
    powers: fit.coefficients.map((_, k) => k + 1),
    coefficients: fit.coefficients,
    covariance: fit.covariance,
    residualSd: fit.residualSd,
    dof: fit.dof,
  };

/** Uncertainty of the curve at a force, newton, masses left out; null for what has no curve. */
export const curvePart = ({ curve }: Calibration, force: number): Part | null =>
  curve ? { u: predictionAt(curve, force).curve, dof: curve.dof } : null;

/**
 * The record as the seam that turns counts into newtons; null where it is not for use. Its relative
 * uncertainty is that of one new reading at the top load, and of what was applied.
 */
export const calibrationOf = (record: CalibrationRecord): Calibration | null => {
  const { coefficients, fit, uApplied, inSpiteOf, id } = record;
  if (coefficients === null || !isForUse(record)) return null;
  const curve = curveOf(record);
  if (!curve || !fit) return { id, calibrated: false, coefficients, uRelative: null };
  const relative = predictionAt(curve, fit.top).reading / fit.top;
  return {
    id,
    calibrated: true,
    coefficients,
    uRelative: uApplied === null ? null : Math.hypot(relative, uApplied),
    curve,
    uApplied,
    ...(inSpiteOf === null ? {} : { inSpiteOf }),
  };
};

/** A record of the pad's own rating, for a pad that is to go back to it. Throws as the rating does. */
export const ratingRecord = (
  rating: PadRating,
  head: Pick<CalibrationRecord, 'id' | 'replaces' | 'padSerial' | 'madeAt' | 'practice' | 'place'>,
): CalibrationRecord => ({
  version: 1,
  kind: 'rating',
  ...head,
  rating: { ratedLoad: rating.ratedLoad, countsAtRatedLoad: rating.countsAtRatedLoad },
  masses: null,
  reference: null,
  points: [],
  results: [],
  fit: null,
  coefficients: [...nominalCalibration(rating).coefficients],
  uApplied: null,
  characteristics: null,
  findings: [],
  verdict: null,
  inSpiteOf: null,
});
