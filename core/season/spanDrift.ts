import { measured, type Measured } from '../measured.ts';
import { studentT } from '../signal/studentT.ts';

/** One check of a pad with a known mass. */
export interface SpanCheck {
  /** Seconds since the pad's calibration. */
  readonly sinceCalibration: number;
  /** (reading − truth)/truth, gravity of the place taken out of both. */
  readonly relative: number;
  /** Standard uncertainty of that from reading and zero, without the mass's own. */
  readonly u: number;
}

export interface SpanDriftQuestion {
  /** Seconds since the calibration for which the drift is asked. */
  readonly at: number;
  /** Relative standard uncertainty of the check mass, common to all checks. */
  readonly uMass: number;
}

export type SpanDrift =
  /** Never checked since the calibration: nothing is known, which is not no drift. */
  | { readonly known: false }
  | {
      readonly known: true;
      /** Relative drift at the time asked for. */
      readonly drift: Measured;
      /** Relative drift per second. */
      readonly rate: Measured;
      /** Whether the 95 % interval of the drift excludes zero. */
      readonly verdict: 'drifts' | 'none seen';
      /** Relative uncertainty to state when the drift is left in: bias and its u in one. */
      readonly ifLeftIn: number;
      /** The time asked for lies after the last check. */
      readonly extrapolated: boolean;
    };

/**
 * Drift of the span since the calibration: a straight line through zero (a calibration has no drift at
 * its own time) by least squares, each check weighed by its own uncertainty; the scatter about the
 * line widens the result where it is more than the checks claim (R. T. Birge, Phys. Rev. 40 (1932)
 * 207), never narrows it. A drift that is left in is added to its uncertainty in quadrature (JCGM
 * 100:2008, F.2.4.5 gives the like for a correction not applied).
 *
 * The uncertainty of the calibration itself is a term of its own in a budget and not in here. Checks at
 * the time of the calibration say nothing of drift and are left out. Throws RangeError on an
 * uncertainty that is not above zero.
 */
export const spanDrift = (
  checks: readonly SpanCheck[],
  { at, uMass }: SpanDriftQuestion,
): SpanDrift => {
  for (const { u, sinceCalibration, relative } of checks)
    if (
      !(u > 0) ||
      u === Infinity ||
      !Number.isFinite(relative) ||
      !Number.isFinite(sinceCalibration)
    )
      throw new RangeError(`not a span check: ${relative} ± ${u} at ${sinceCalibration} s`);
  if (!(uMass >= 0)) throw new RangeError(`not an uncertainty: ${uMass}`);
  const later = checks.filter(({ sinceCalibration }) => sinceCalibration > 0);
  if (later.length === 0) return { known: false };

  let top = 0;
  let bottom = 0;
  let massOver = 0;
  for (const { sinceCalibration: t, relative, u } of later) {
    top += (t * relative) / u ** 2;
    bottom += (t * t) / u ** 2;
    massOver += t / u ** 2;
  }
  const rate = top / bottom;
  const dof = later.length - 1;
  const chi = later.reduce(
    (sum, { sinceCalibration: t, relative, u }) => sum + ((relative - rate * t) / u) ** 2,
    0,
  );
  const wider = dof > 0 ? Math.sqrt(Math.max(1, chi / dof)) : 1;
  // The mass is wrong by the same in every check: its share follows the weights, unaveraged.
  const uRate = Math.hypot(wider / Math.sqrt(bottom), (uMass * massOver) / bottom);
  // Where the claims of the checks hold their dof are theirs; where the scatter rules, its own.
  const rateDof = wider > 1 ? dof : Infinity;
  const drift = measured(rate * at, Math.abs(at) * uRate, rateDof);
  return {
    known: true,
    drift,
    rate: measured(rate, uRate, rateDof),
    verdict: Math.abs(drift.value) > studentT(0.05, drift.dof) * drift.u ? 'drifts' : 'none seen',
    ifLeftIn: Math.hypot(drift.value, drift.u),
    extrapolated: at > Math.max(...later.map(({ sinceCalibration }) => sinceCalibration)),
  };
};
