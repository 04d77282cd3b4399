import { solveByHouseholder } from '../calibration/householder.ts';

/** Ordinary least squares of a linear model. */
export interface LinearModel {
  readonly coefficients: readonly number[];
  /** Of the coefficients, residual variance included; row by row. */
  readonly covariance: readonly (readonly number[])[];
  readonly residuals: readonly number[];
  readonly squares: number;
  readonly residualSd: number;
  readonly dof: number;
}

/**
 * Fits y = rows·coefficients by Householder QR. Null where no degree of freedom is left or the columns
 * depend on one another: then the data do not tell the coefficients apart.
 */
export const linearModel = (
  rows: readonly (readonly number[])[],
  y: readonly number[],
): LinearModel | null => {
  const width = rows[0]?.length ?? 0;
  const dof = rows.length - width;
  if (width === 0 || dof < 1) return null;
  // Columns of like size, so that dependence is judged and not mere smallness.
  const scales = Array.from({ length: width }, (_, k) =>
    Math.max(...rows.map((row) => Math.abs(row[k] as number))),
  );
  if (scales.some((scale) => !(scale > 0) || scale === Infinity)) return null;
  const solved = solveByHouseholder(
    rows.map((row) => row.map((entry, k) => entry / (scales[k] as number))),
    y,
  );
  if (!solved) return null;
  const coefficients = solved.solution.map((value, k) => value / (scales[k] as number));
  const residuals = rows.map(
    (row, i) =>
      (y[i] as number) -
      row.reduce((sum, entry, k) => sum + entry * (coefficients[k] as number), 0),
  );
  const squares = residuals.reduce((sum, residual) => sum + residual ** 2, 0);
  const variance = squares / dof;
  return {
    coefficients,
    covariance: solved.inverseNormal.map((row, i) =>
      row.map((entry, j) => (variance * entry) / ((scales[i] as number) * (scales[j] as number))),
    ),
    residuals,
    squares,
    residualSd: Math.sqrt(variance),
    dof,
  };
};
