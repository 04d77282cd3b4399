import type { Characteristics, Finding } from '../../contract/calibrationRecord.ts';
import { fixed, HARD_SPACE } from '../../format/number.ts';
import { inWords, massShown } from '../../format/quantity.ts';
import { fTail } from '../../statistics/fDistribution.ts';
import type { FittedCurve } from '../fitCurve.ts';
import type { PlacedPoint } from '../placePoints.ts';
import { slopeAt } from '../polynomialFit.ts';
import type { TurnedCurve } from '../turnRound.ts';

/** Residuals from this share of the capacity on refuse a calibration, whatever R² is. */
const REFUSED = 0.01;
/** A lone point is named from this share of the capacity on, and where chance gives it one time in 100. */
const LONE = 5e-4;
const LONE_CHANCE = 0.01;
/** A span this far from the rating: zero balance and rated output are good to far less (0.1 %). */
const OFF_RATING = 0.03;
/** A zero that does not return within this share of the capacity (typical cells: 0.03 %). */
const ZERO_MOVED = 1e-3;

const kg = (mass: number): string => inWords(massShown('kg', mass, { decimals: 2 }));

/** What the fitted curve shows against itself. */
export interface CurveSeen {
  readonly fitted: FittedCurve;
  readonly turned: TurnedCurve | null;
  /** Points in the order of the residuals. */
  readonly points: readonly PlacedPoint[];
  readonly characteristics: Characteristics | null;
  readonly gravity: number;
  /** Rated load, or the top load where the pad does not say, kg. */
  readonly capacity: number;
  readonly ratedSlope: number | null;
}

/** Residual of each point as a mass, kg. */
const residualsOf = ({ fitted, points, gravity }: CurveSeen): readonly number[] =>
  points.map(({ force }, index) => {
    const slope = slopeAt(fitted.curve, force);
    return (fitted.whole.residuals[index] as number) / slope / gravity;
  });

const residual = (seen: CurveSeen): Finding | null => {
  const residuals = residualsOf(seen);
  const large = seen.points.filter(
    (_, index) => Math.abs(residuals[index] as number) >= REFUSED * seen.capacity,
  );
  if (large.length === 0) return null;
  const worst = Math.max(...residuals.map(Math.abs));
  const { rSquared } = seen.fitted.whole;
  return {
    code: 'residual',
    weight: 'refuses',
    what: `The curve misses a point by ${kg(worst)}, ${fixed((100 * worst) / seen.capacity, 1)}${HARD_SPACE}% of ${kg(seen.capacity)}.`,
    why:
      rSquared > 0.99
        ? `R² of ${rSquared.toFixed(5)} looks fine all the same: over a wide range it always does.`
        : `R² is only ${rSquared.toFixed(3)}: load and reading hardly go together.`,
    next: 'Look at the residuals: take the points that stand out again, or see what rubs or leans.',
    points: large.map(({ taken }) => taken.number),
  };
};

/** The largest residual against the scatter of the others (R. D. Cook and S. Weisberg, 1982, 2.2.2). */
const lonePoint = (seen: CurveSeen): Finding | null => {
  const { whole, weights } = seen.fitted;
  const residuals = residualsOf(seen);
  const count = residuals.length;
  if (whole.dof < 3) return null;
  const squares = whole.residuals.map((each, index) => (weights[index] as number) * each ** 2);
  const total = squares.reduce((sum, each) => sum + each, 0);
  const worst = squares.indexOf(Math.max(...squares));
  const others = (total - (squares[worst] as number)) / (whole.dof - 1);
  const size = residuals[worst] as number;
  if (Math.abs(size) < LONE * seen.capacity) return null;
  const ratio = others > 0 ? (squares[worst] as number) / others : Infinity;
  if (fTail(ratio, 1, whole.dof - 1) * count > LONE_CHANCE) return null;
  const point = seen.points[worst] as PlacedPoint;
  return {
    code: 'lone point',
    weight: 'warns',
    what: `Point ${point.taken.number} at ${kg(point.force / seen.gravity)} stands alone: ${kg(Math.abs(size))} ${size > 0 ? 'above' : 'below'} the curve.`,
    why: 'The others agree with one another much better: another mass may have stood there, or something touched it.',
    next: 'Undo this point and take it again.',
    points: [point.taken.number],
  };
};

const rating = ({ fitted, ratedSlope }: CurveSeen): Finding | null => {
  if (ratedSlope === null) return null;
  const ratio = slopeAt(fitted.curve, 0) / ratedSlope;
  if (Math.abs(ratio - 1) <= OFF_RATING) return null;
  return {
    code: 'rating',
    weight: 'warns',
    what: `The span is ${fixed(100 * ratio, 1)}${HARD_SPACE}% of the pad's own rating.`,
    why: 'Pads keep their rating to a tenth of a percent or so: masses, rating or pad are not what they are taken for.',
    next: 'Check the numbers on the masses, and the rated load of the pad.',
    points: [],
  };
};

const zeroMoved = ({ characteristics, capacity }: CurveSeen): Finding | null => {
  const moved = characteristics?.zeroReturn;
  if (!moved || Math.abs(moved.value) <= ZERO_MOVED * capacity) return null;
  return {
    code: 'zero moved',
    weight: 'warns',
    what: `After the load the zero came back ${kg(Math.abs(moved.value))} ${moved.value > 0 ? 'high' : 'low'}.`,
    why: 'A sound pad comes back to a few hundredths of a percent: it drifts, warms up, sticks, or was overloaded.',
    next: 'Let it warm up, see that nothing rubs, and go through the loads again.',
    points: [],
  };
};

const curveShape = ({ fitted, turned, gravity, capacity }: CurveSeen): Finding | null => {
  if (!turned)
    return {
      code: 'not monotone',
      weight: 'refuses',
      what: 'The curve does not rise throughout: one reading would mean two loads.',
      why: 'Points contradict one another, or there are too few for a bent curve.',
      next: 'Look at the residuals and take the points again.',
      points: [],
    };
  const error = turned.largestError / gravity;
  if (error > LONE * capacity)
    return {
      code: 'inverse',
      weight: 'refuses',
      what: `The pad is so far from straight that its curve cannot be turned round to better than ${kg(error)}.`,
      why: 'Readings are made of a cubic of the counts, and no cubic follows this curve.',
      next: 'See what limits the pad: rubbing, overload, a stop.',
      points: [],
    };
  const { evidence } = fitted;
  if (evidence.kind === 'lack of fit' && evidence.remains)
    return {
      code: 'lack of fit',
      weight: 'notes',
      what: 'Even a cubic leaves more than repeated loads scatter.',
      why: 'The pad repeats better than any such curve follows it; the uncertainty holds what the curve leaves.',
      next: 'Nothing needs doing while the errors are within what you need.',
      points: [],
    };
  return null;
};

/** Everything that the curve shows against itself, the gravest first. */
export const findInCurve = (seen: CurveSeen): readonly Finding[] => {
  // Where the curve is flat a residual is no force: that it is flat is all that can be said.
  const isFlat = seen.points.some(({ force }) => slopeAt(seen.fitted.curve, force) === 0);
  const found = isFlat
    ? [curveShape(seen)]
    : [residual(seen), curveShape(seen), lonePoint(seen), rating(seen), zeroMoved(seen)];
  return found.filter((finding) => finding !== null);
};
