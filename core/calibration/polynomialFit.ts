import { solveByHouseholder } from './householder.ts';

/** One observation: what was applied, what was read, and the weight it is given (1 unless known better). */
export interface Observation {
  readonly x: number;
  readonly y: number;
  readonly weight?: number;
}

/** A polynomial fitted by weighted least squares, in the units of the observations. */
export interface PolynomialFit {
  /** Powers of x, in the order of `coefficients`: 0, 1, … or from 1 where forced through zero. */
  readonly powers: readonly number[];
  readonly coefficients: readonly number[];
  /** Covariance of the coefficients, residual variance times (XᵀWX)⁻¹, row by row. */
  readonly covariance: readonly (readonly number[])[];
  readonly residuals: readonly number[];
  /** Residual standard deviation with `dof` degrees of freedom. */
  readonly residualSd: number;
  readonly dof: number;
  /** About the mean, or about zero where forced through zero (as NIST StRD has it). */
  readonly rSquared: number;
}

export type FitOutcome =
  { readonly ok: true; readonly fit: PolynomialFit } | { readonly ok: false; readonly why: string };

/**
 * Weighted polynomial least squares by Householder QR. x is scaled by its largest size before the
 * powers are taken, so that the columns are comparable, and the result is scaled back (G. H. Golub and
 * C. F. Van Loan, Matrix Computations, 4th ed., 5.3). Checked on the certified sets of NIST StRD.
 *
 * Refuses observations that are not finite, weights that are not above zero, and fewer different x than
 * coefficients plus one: such a fit says nothing of its own scatter.
 */
export const polynomialFit = (
  observations: readonly Observation[],
  model: { readonly degree: 1 | 2 | 3; readonly throughZero?: boolean },
): FitOutcome => {
  const first = model.throughZero ? 1 : 0;
  const powers = Array.from({ length: model.degree + 1 - first }, (_, index) => index + first);
  for (const { x, y, weight = 1 } of observations)
    if (!Number.isFinite(x) || !Number.isFinite(y) || !(weight > 0) || weight === Infinity)
      return { ok: false, why: `an observation is no number: x ${x}, y ${y}, weight ${weight}` };
  const different = new Set(
    observations.map(({ x }) => x).filter((x) => !(first === 1 && x === 0)),
  );
  if (different.size < powers.length || observations.length <= powers.length)
    return {
      ok: false,
      why: `${observations.length} observations at ${different.size} loads are too few for ${powers.length} coefficients`,
    };

  const scale = Math.max(...observations.map(({ x }) => Math.abs(x)));
  const roots = observations.map(({ weight = 1 }) => Math.sqrt(weight));
  const rows = observations.map(({ x }, index) =>
    powers.map((power) => (roots[index] as number) * (x / scale) ** power),
  );
  const right = observations.map(({ y }, index) => (roots[index] as number) * y);
  const solved = solveByHouseholder(rows, right);
  if (!solved) return { ok: false, why: 'the loads do not tell the coefficients apart' };

  const back = powers.map((power) => scale ** power);
  const coefficients = solved.solution.map((value, index) => value / (back[index] as number));
  const residuals = observations.map(({ x, y }) => y - evaluate(powers, coefficients, x));
  const dof = observations.length - powers.length;
  const weighted = (values: readonly number[]): number =>
    values.reduce((sum, value, index) => sum + ((roots[index] as number) * value) ** 2, 0);
  const sumOfSquares = weighted(residuals);
  const variance = sumOfSquares / dof;
  const weights = roots.map((root) => root ** 2);
  const mean =
    first === 1
      ? 0
      : observations.reduce((sum, { y }, index) => sum + (weights[index] as number) * y, 0) /
        weights.reduce((sum, weight) => sum + weight, 0);
  const total = weighted(observations.map(({ y }) => y - mean));
  return {
    ok: true,
    fit: {
      powers,
      coefficients,
      covariance: solved.inverseNormal.map((row, i) =>
        row.map((entry, j) => (variance * entry) / ((back[i] as number) * (back[j] as number))),
      ),
      residuals,
      residualSd: Math.sqrt(variance),
      dof,
      rSquared: total > 0 ? 1 - sumOfSquares / total : Number.NaN,
    },
  };
};

const evaluate = (powers: readonly number[], coefficients: readonly number[], x: number): number =>
  powers.reduce((sum, power, index) => sum + (coefficients[index] as number) * x ** power, 0);

/** Value of the fitted curve at x and the standard uncertainty of the curve there. */
export const fittedAt = (
  { powers, coefficients, covariance }: PolynomialFit,
  x: number,
): { readonly value: number; readonly u: number } => {
  const basis = powers.map((power) => x ** power);
  let variance = 0;
  for (const [i, bi] of basis.entries())
    for (const [j, bj] of basis.entries()) variance += bi * bj * (covariance[i]?.[j] ?? Number.NaN);
  return { value: evaluate(powers, coefficients, x), u: Math.sqrt(Math.max(0, variance)) };
};

/** Slope of the fitted curve at x. */
export const slopeAt = ({ powers, coefficients }: PolynomialFit, x: number): number =>
  powers.reduce(
    (sum, power, index) =>
      power === 0 ? sum : sum + power * (coefficients[index] as number) * x ** (power - 1),
    0,
  );
