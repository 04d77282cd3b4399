import { chooseDegree, type DegreeChosen } from './chooseDegree.ts';
import {
  overZero,
  slopeAt,
  type Curve,
  type Observation,
  type PolynomialFit,
} from './polynomialFit.ts';

/** A point as the fit needs it: force in newton, counts as sent, standard uncertainty of the counts. */
export interface CurvePoint {
  readonly force: number;
  /** Standard uncertainty of the force from the scatter of this point alone, newton; 0 for masses. */
  readonly uForce: number;
  readonly counts: number;
  readonly uCounts: number;
  /** Points between two takings of the zero share a zero. */
  readonly zero: number;
  readonly side: 'up' | 'down';
  /** Number of the load: points meant to have the same one share it. */
  readonly load: number;
}

/** The curve of a pad: counts over zero as a polynomial of the force, and what it was found from. */
export interface FittedCurve {
  /** Without the zeros: powers 1 to 3 of the force, counts per newton^k, with covariance. */
  readonly curve: Curve;
  /** The whole fit, zeros among its coefficients, residuals in the order of the points. */
  readonly whole: PolynomialFit;
  readonly degree: DegreeChosen['degree'];
  readonly evidence: DegreeChosen['evidence'];
  /** Weights as used, 1 on average, in the order of the points. */
  readonly weights: readonly number[];
}

export type CurveOutcome =
  | { readonly ok: true; readonly fitted: FittedCurve }
  | { readonly ok: false; readonly why: string };

/**
 * Weights by the variance of each point: that which all share (placing, creep, what the curve leaves) is
 * the residual variance of a first fit less what the points' own scatter explains, and never below
 * zero. A noisy average then counts for less, and a quiet one for no more than the placing allows.
 */
const weightsOf = (own: readonly number[], residualSd: number): readonly number[] => {
  const mean = own.reduce((sum, u) => sum + u ** 2, 0) / own.length;
  const shared = Math.max(0, residualSd ** 2 - mean);
  const raw = own.map((u) => 1 / (shared + u ** 2));
  const total = raw.reduce((sum, weight) => sum + weight, 0);
  if (!Number.isFinite(total)) return own.map(() => 1);
  return raw.map((weight) => (weight * own.length) / total);
};

/**
 * Fits the counts as a polynomial of the force: of the two, the force is the better known, so the
 * residuals belong to the counts, and loads applied twice show what scatters. Each taking of the zero
 * has its own constant, so that a zero that moves between cycles bends nothing. The degree is chosen
 * by evidence.
 */
export const fitCurve = (points: readonly CurvePoint[]): CurveOutcome => {
  const observations = points.map(({ force, counts, zero, side, load }): Observation => ({
    x: force,
    y: counts,
    cycle: zero,
    side,
    load,
  }));
  const first = chooseDegree(observations);
  if (!first.ok) return first;
  const { fit } = first.chosen;
  const own = points.map(({ uCounts, uForce, force }) =>
    Math.hypot(uCounts, uForce * slopeAt(fit, force)),
  );
  const weights = weightsOf(own, fit.residualSd);
  const weighted = chooseDegree(
    observations.map((each, index) => ({ ...each, weight: weights[index] as number })),
  );
  if (!weighted.ok) return weighted;
  const { degree, fit: whole, evidence } = weighted.chosen;
  return { ok: true, fitted: { curve: overZero(whole), whole, degree, evidence, weights } };
};
