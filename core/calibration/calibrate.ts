import type {
  CalibrationRecord,
  Finding,
  Limits,
  PointResult,
  TakenPoint,
} from '../contract/calibrationRecord.ts';
import { capital } from '../format/capital.ts';
import { STANDARD_GRAVITY } from '../units.ts';
import { appliedMass } from './appliedMass.ts';
import type { Calibration } from './calibration.ts';
import { characteristics } from './characteristics.ts';
import { findChangeMidway } from './findings/findChangeMidway.ts';
import { findInCurve } from './findings/findInCurve.ts';
import { findInOrder, findLeftOut, findStuck } from './findings/findInPoints.ts';
import { findInPlan } from './findings/findInPlan.ts';
import { findWrongUnit, ratedSlope } from './findings/findWrongUnit.ts';
import { fitCurve, type FittedCurve } from './fitCurve.ts';
import { indications, type Indication } from './indications.ts';
import { placePoints, pointsInFit, type PlacedPoint } from './placePoints.ts';
import { slopeAt } from './polynomialFit.ts';
import { turnRound, type TurnedCurve } from './turnRound.ts';
import { verdictOn } from './verdict.ts';

/** What a calibration is made of. The same for masses and for a pad in series. */
export interface CalibrationInput extends Pick<
  CalibrationRecord,
  | 'id'
  | 'replaces'
  | 'padSerial'
  | 'madeAt'
  | 'practice'
  | 'place'
  | 'rating'
  | 'masses'
  | 'reference'
> {
  readonly points: readonly TakenPoint[];
  /** Limits to hold it against; null for none. */
  readonly against: Limits | null;
}

/** Relative standard uncertainty of what was applied, the largest over the points; null: not known. */
const uAppliedOf = ({ masses, reference }: CalibrationInput, points: readonly PlacedPoint[]) => {
  if (reference) return reference.uRelative;
  let worst = 0;
  for (const { taken } of points) {
    if (taken.massIds.length === 0) continue;
    const { value, u } = appliedMass(
      (masses?.masses ?? []).filter(({ id }) => taken.massIds.includes(id)),
    );
    if (u === null) return null;
    worst = Math.max(worst, u / value);
  }
  return worst;
};

const straight = (slope: number): Calibration => ({
  id: null,
  calibrated: false,
  coefficients: [1 / slope],
  uRelative: null,
});

interface Made {
  readonly fitted: FittedCurve;
  readonly turned: TurnedCurve | null;
  readonly used: readonly Indication[];
  readonly straight: readonly Indication[];
  readonly top: number;
}

const make = (placed: readonly PlacedPoint[], gravity: number): Made | { readonly why: string } => {
  const points = pointsInFit(placed);
  const top = Math.max(0, ...points.map(({ force }) => force));
  const outcome = fitCurve(
    points.map(({ force, uForce, taken, zero, side, load }) => ({
      force,
      uForce,
      counts: taken.counts.value,
      uCounts: taken.counts.u,
      zero,
      side,
      load,
    })),
  );
  if (!outcome.ok) return outcome;
  const { fitted } = outcome;
  const turned = turnRound(fitted.curve, top);
  const zeros = fitted.whole.coefficients.slice(0, fitted.whole.cycles.length);
  const slope = slopeAt(fitted.curve, top / 2);
  const by = (calibration: Calibration): readonly Indication[] =>
    indications(placed, { calibration, zeros, gravity });
  const line = slope === 0 ? [] : by(straight(slope));
  return {
    fitted,
    turned,
    top,
    straight: line,
    used: turned ? by({ ...straight(1), coefficients: turned.coefficients }) : [],
  };
};

const resultsOf = (placed: readonly PlacedPoint[], made: Made | null): readonly PointResult[] => {
  const inFit = pointsInFit(placed);
  return placed.map((point) => {
    const { taken, force, cycle, side, leftOut } = point;
    const index = inFit.indexOf(point);
    const slope = made ? slopeAt(made.fitted.curve, force) : 0;
    return {
      number: taken.number,
      applied: force,
      cycle,
      side,
      error: made?.used.find((each) => each.point === point)?.error ?? null,
      residual:
        made && index >= 0 && slope !== 0
          ? (made.fitted.whole.residuals[index] as number) / slope
          : null,
      leftOut,
    };
  });
};

const fitOf = ({ fitted, turned, top }: Made): CalibrationRecord['fit'] => {
  const { curve, whole, degree, evidence } = fitted;
  return {
    degree,
    coefficients: [...curve.coefficients],
    covariance: curve.covariance.map((row) => [...row]),
    residualSd: curve.residualSd,
    dof: curve.dof,
    // Readings that never change have no R².
    rSquared: Number.isFinite(whole.rSquared) ? whole.rSquared : 0,
    zeros: whole.coefficients.slice(0, whole.cycles.length),
    evidence: {
      kind: evidence.kind,
      p: evidence.p,
      remains: evidence.kind === 'lack of fit' && evidence.remains,
    },
    top,
    inverseError: turned?.largestError ?? 0,
  };
};

/** Findings that explain a bad curve: the first that does is enough, the others follow from it. */
const findCause = (
  placed: readonly PlacedPoint[],
  input: CalibrationInput,
  rated: number | null,
): Finding | null => {
  const points = pointsInFit(placed);
  const { gravity } = input.place;
  return (
    findStuck(placed, { ratedSlope: rated, gravity }) ??
    (input.masses
      ? findWrongUnit(points, { masses: input.masses, gravity, ratedSlope: rated })
      : null) ??
    findChangeMidway(points)
  );
};

/**
 * Makes the record of a calibration: every point is kept, in its place; a curve where one can be
 * fitted; what the pad shows of itself; what was found against it; and the verdict. It is the same
 * function whether the calibration is finished or half done, so that findings show while masses are
 * still being placed. Throws RangeError for a mass that is not in the set.
 */
export const calibrate = (input: CalibrationInput): CalibrationRecord => {
  const { against, points, ...head } = input;
  const { gravity } = input.place;
  const placed = placePoints(points, { ...input, gravity });
  const rated = ratedSlope(input.rating, STANDARD_GRAVITY);
  const uApplied = uAppliedOf(input, pointsInFit(placed));
  const ratedLoad = input.rating?.ratedLoad ?? null;

  const outcome = make(placed, gravity);
  const made = 'why' in outcome ? null : outcome;
  const shown = made && made.turned ? characteristics(made.used, made.straight) : null;
  const capacity = ratedLoad ?? (made?.top ?? 0) / gravity;
  const cause = findCause(placed, input, rated);

  const findings = [
    ...(cause ? [cause] : []),
    ...findLeftOut(placed),
    ...findInPlan(placed, { gravity, ratedLoad, uApplied }),
    ...(made
      ? findInCurve({
          ...made,
          points: pointsInFit(placed),
          characteristics: shown,
          gravity,
          capacity,
          ratedSlope: rated,
        })
      : []),
    ...('why' in outcome ? [noCurve(outcome.why)] : []),
    ...findInOrder(placed),
  ];
  return {
    version: 1,
    kind: input.reference ? 'transfer' : 'masses',
    ...head,
    points: [...points],
    results: [...resultsOf(placed, made)],
    fit: made ? fitOf(made) : null,
    coefficients: made?.turned ? [...made.turned.coefficients] : null,
    uApplied,
    characteristics: shown,
    findings,
    verdict:
      against && made && shown
        ? verdictOn(
            {
              points: made.used.filter(({ point }) => !point.isZero && point.leftOut === null),
              characteristics: shown,
              uApplied,
              capacity,
            },
            against,
          )
        : null,
    inSpiteOf: null,
  };
};

const noCurve = (why: string): Finding => ({
  code: 'no curve',
  weight: 'refuses',
  what: 'No curve can be fitted yet.',
  why: `${capital(why)}.`,
  next: 'Place more loads.',
  points: [],
});
