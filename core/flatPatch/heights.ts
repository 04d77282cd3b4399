import { twist as twistOf } from '../adjust/warp.ts';
import { CORNERS, type PerCorner } from '../corners.ts';
import { measured, type Measured } from '../measured.ts';
import type { Car } from '../sheet/car.ts';

type Matrix = readonly (readonly number[])[];

/**
 * Heights that belong together, metre, up positive, over the mean of the four pads. The first four
 * are the pads in the order LF, RF, LR, RR, each where its wheel stands; after them the marks.
 */
export interface Heights {
  readonly values: readonly number[];
  readonly marks: readonly string[];
  /** Covariance, m²: the part that the scatter of the sights makes, with `dof` degrees of freedom. */
  readonly scattered: Matrix;
  /** The part of uncertainties taken as known: cone, tilt, step of the readings. */
  readonly known: Matrix;
  readonly dof: number;
}

const quadratic = (matrix: Matrix, over: readonly number[]): number =>
  over.reduce(
    (sum, a, i) =>
      a === 0
        ? sum
        : sum + a * over.reduce((row, b, j) => row + b * ((matrix[i] as number[])[j] as number), 0),
    0,
  );

/**
 * A linear form Σ overᵢ·heightᵢ with its standard uncertainty, full covariance (JCGM 100:2008,
 * 5.2.2); degrees of freedom by Welch–Satterthwaite, known parts counting as infinite (G.4.1).
 * Missing last entries count as zero. `alsoKnown` is a further variance taken as known.
 */
export const combineHeights = (
  heights: Heights,
  over: readonly number[],
  alsoKnown = 0,
): Measured => {
  const all = heights.values.map((_, i) => over[i] ?? 0);
  const value = all.reduce((sum, a, i) => sum + a * (heights.values[i] as number), 0);
  const scattered = Math.max(0, quadratic(heights.scattered, all));
  const variance = scattered + Math.max(0, quadratic(heights.known, all)) + alsoKnown;
  const dof = scattered > 0 ? heights.dof * (variance / scattered) ** 2 : Infinity;
  return measured(value, Math.sqrt(variance), dof);
};

/** Coefficients of the twist w = Σ n_j·z_j: how far the left front is out of the plane of the others. */
export const twistForm = ({
  trackFront,
  trackRear,
}: Pick<Car, 'trackFront' | 'trackRear'>): readonly number[] => [
  1,
  -1,
  -trackFront / trackRear,
  trackFront / trackRear,
];

/** Level: how much higher one side stands than the other, and the front than the rear; metre. */
export interface Level {
  /** Left over right, over the mean of the tracks. */
  readonly leftOverRight: Measured;
  /** Front over rear, over the wheelbase. */
  readonly frontOverRear: Measured;
  /** The one of the two that is further from level. */
  readonly worst: Measured;
}

/**
 * Coefficients of the slopes dz/dy and dz/dx of the best-fit plane, radian per metre of height. Four
 * heights less their best-fit plane are always the twist pattern, so the plane is what is left when
 * n·w/|n|² is taken off, and any three of its corners tell its slopes.
 */
export const slopeForms = (
  car: Car,
): { readonly left: readonly number[]; readonly forward: readonly number[] } => {
  const n = twistForm(car);
  const size = n.reduce((sum, each) => sum + each * each, 0);
  const inPlane = (over: readonly number[]): readonly number[] => {
    const along = over.reduce((sum, a, i) => sum + a * (n[i] as number), 0);
    return over.map((a, i) => a - (along * (n[i] as number)) / size);
  };
  return {
    left: inPlane([1 / car.trackFront, -1 / car.trackFront, 0, 0]),
    forward: inPlane([0.5, 0.5, -0.5, -0.5].map((each) => each / car.wheelbase)),
  };
};

/** Twist and level of four heights. */
export const twistAndLevel = (
  car: Car,
  heights: Heights,
): { readonly twist: Measured; readonly level: Level } => {
  const slopes = slopeForms(car);
  const track = (car.trackFront + car.trackRear) / 2;
  const leftOverRight = combineHeights(
    heights,
    slopes.left.map((each) => each * track),
  );
  const frontOverRear = combineHeights(
    heights,
    slopes.forward.map((each) => each * car.wheelbase),
  );
  const worst =
    Math.abs(leftOverRight.value) > Math.abs(frontOverRear.value) ? leftOverRight : frontOverRear;
  return {
    twist: combineHeights(heights, twistForm(car)),
    level: { leftOverRight, frontOverRear, worst },
  };
};

/** Twist and slopes of plain heights: left over right and front over rear as radian. */
export const shapeOf = (
  car: Car,
  heights: PerCorner<number>,
): { readonly twist: number; readonly left: number; readonly forward: number } => {
  const dot = (over: readonly number[]): number =>
    CORNERS.reduce((sum, corner, i) => sum + (over[i] as number) * heights[corner], 0);
  const slopes = slopeForms(car);
  return { twist: twistOf(car, heights), left: dot(slopes.left), forward: dot(slopes.forward) };
};
