import { solveByHouseholder } from '../calibration/householder.ts';
import { measured, type Measured } from '../measured.ts';
import { chiSquaredQuantile } from '../statistics/chiSquaredQuantile.ts';
import { effectiveDof } from '../uncertainty/combine.ts';

/** A linear model fitted to values whose uncertainties are stated. */
export interface WeightedFit {
  readonly coefficients: readonly number[];
  /** Of the coefficients, row by row. */
  readonly covariance: readonly (readonly number[])[];
  readonly residuals: readonly number[];
  /** Sum of (residual/u)², and the readings left over. */
  readonly chiSquared: number;
  readonly dof: number;
  /** The residuals are within what the stated uncertainties allow, at 5 %. */
  readonly agrees: boolean;
  /** A linear combination of the coefficients, with its uncertainty. */
  readonly estimate: (combination: readonly number[]) => Measured;
}

/** One sound set of readings in twenty is doubted. */
const DOUBT = 0.05;

/**
 * Least squares weighted by 1/u², the readings being independent. Uncertainty comes from what is stated
 * of the readings; where their residuals contradict that, from the residuals: u times √(χ²/ν) with ν
 * degrees of freedom (R. T. Birge, Phys. Rev. 40 (1932) 207). Null where there are fewer readings than
 * coefficients, a reading has no uncertainty, or the rows do not tell the coefficients apart.
 */
export const weightedFit = (
  rows: readonly (readonly number[])[],
  y: readonly Measured[],
): WeightedFit | null => {
  const width = rows[0]?.length ?? 0;
  const dof = rows.length - width;
  if (width === 0 || dof < 0 || y.some(({ u }) => !(u > 0))) return null;
  const scales = Array.from({ length: width }, (_, k) =>
    Math.hypot(...rows.map((row, i) => (row[k] as number) / (y[i] as Measured).u)),
  );
  if (scales.some((scale) => !(scale > 0))) return null;
  const scaled = rows.map((row, i) =>
    row.map((entry, k) => entry / (y[i] as Measured).u / (scales[k] as number)),
  );
  const solved = solveByHouseholder(
    scaled,
    y.map(({ value, u }) => value / u),
  );
  if (!solved) return null;
  const coefficients = solved.solution.map((value, k) => value / (scales[k] as number));
  const residuals = rows.map((row, i) => (y[i] as Measured).value - dot(row, coefficients));
  const chiSquared = residuals.reduce((sum, r, i) => sum + (r / (y[i] as Measured).u) ** 2, 0);
  const agrees = dof === 0 || chiSquared <= chiSquaredQuantile(DOUBT, dof);
  const stretch = agrees ? 1 : Math.sqrt(chiSquared / dof);
  const inverse = solved.inverseNormal.map((row, i) =>
    row.map((entry, j) => entry / (scales[i] as number) / (scales[j] as number)),
  );
  if (![...coefficients, ...inverse.flat(), chiSquared].every(Number.isFinite)) return null;
  /** What each reading's own uncertainty adds to a combination. */
  const parts = (combination: readonly number[]) => {
    const weights = inverse.map((row) => dot(row, combination));
    return rows.map((row, i) => ({
      u: Math.abs(dot(row, weights)) / (y[i] as Measured).u,
      dof: (y[i] as Measured).dof,
    }));
  };
  return {
    coefficients,
    covariance: inverse.map((row) => row.map((entry) => entry * stretch ** 2)),
    residuals,
    chiSquared,
    dof,
    agrees,
    estimate: (combination) => {
      const own = parts(combination);
      return measured(
        dot(combination, coefficients),
        stretch * Math.hypot(...own.map(({ u }) => u)),
        agrees ? effectiveDof(own) : dof,
      );
    },
  };
};

const dot = (a: readonly number[], b: readonly number[]): number =>
  a.reduce((sum, value, index) => sum + value * (b[index] as number), 0);
