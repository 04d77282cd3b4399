import { solveByHouseholder } from './householder.ts';

/** One observation: what was applied, what was read, and the weight it is given (1 unless known better). */
export interface Observation {
  readonly x: number;
  readonly y: number;
  readonly weight?: number;
  /** Observations of one cycle share a zero: each cycle has a constant of its own in the fit. */
  readonly cycle?: number;
  /** Label of loads that are meant to be the same; without it those that are equal are. */
  readonly load?: number;
  /** Whether x was reached from below or from above; no part of the fit, but of its lack of fit. */
  readonly side?: 'up' | 'down';
}

/** A polynomial fitted by weighted least squares, in the units of the observations. */
export interface PolynomialFit {
  /**
   * Powers of x, in the order of `coefficients`: 0 once for each cycle, then 1, 2, …; from 1 where
   * forced through zero.
   */
  readonly powers: readonly number[];
  /** Cycles whose zeros the constants are, in their order; 0 stands for observations of no cycle. */
  readonly cycles: readonly number[];
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

/** What of a fit is needed to use it. */
export type Curve = Pick<
  PolynomialFit,
  'powers' | 'coefficients' | 'covariance' | 'residualSd' | 'dof'
>;

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
  const cycles = model.throughZero ? [] : [...new Set(observations.map(cycleOf))];
  const powers = [
    ...cycles.map(() => 0),
    ...Array.from({ length: model.degree }, (_, index) => index + 1),
  ];
  for (const { x, y, weight = 1 } of observations)
    if (!Number.isFinite(x) || !Number.isFinite(y) || !(weight > 0) || weight === Infinity)
      return { ok: false, why: `an observation is no number: x ${x}, y ${y}, weight ${weight}` };
  const different = new Set(
    observations.map(({ x }) => x).filter((x) => !(model.throughZero && x === 0)),
  );
  const needed = model.degree + (model.throughZero ? 0 : 1);
  if (different.size < needed || observations.length <= powers.length)
    return {
      ok: false,
      why: `${observations.length} observations at ${different.size} loads are too few for ${powers.length} coefficients`,
    };

  const scale = Math.max(...observations.map(({ x }) => Math.abs(x)));
  const roots = observations.map(({ weight = 1 }) => Math.sqrt(weight));
  const basis = (observation: Observation, x: number): readonly number[] =>
    powers.map((power, k) => (power > 0 ? x ** power : cycles[k] === cycleOf(observation) ? 1 : 0));
  const rows = observations.map((each, index) =>
    basis(each, each.x / scale).map((entry) => (roots[index] as number) * entry),
  );
  const right = observations.map(({ y }, index) => (roots[index] as number) * y);
  const solved = solveByHouseholder(rows, right);
  if (!solved) return { ok: false, why: 'the loads do not tell the coefficients apart' };

  const back = powers.map((power) => scale ** power);
  const coefficients = solved.solution.map((value, index) => value / (back[index] as number));
  const residuals = observations.map(
    (each) =>
      each.y -
      basis(each, each.x).reduce((sum, entry, k) => sum + entry * (coefficients[k] as number), 0),
  );
  const dof = observations.length - powers.length;
  const weighted = (values: readonly number[]): number =>
    values.reduce((sum, value, index) => sum + ((roots[index] as number) * value) ** 2, 0);
  const sumOfSquares = weighted(residuals);
  const variance = sumOfSquares / dof;
  const weights = roots.map((root) => root ** 2);
  const mean = model.throughZero
    ? 0
    : observations.reduce((sum, { y }, index) => sum + (weights[index] as number) * y, 0) /
      weights.reduce((sum, weight) => sum + weight, 0);
  const total = weighted(observations.map(({ y }) => y - mean));
  return {
    ok: true,
    fit: {
      powers,
      cycles,
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

const cycleOf = ({ cycle = 0 }: Observation): number => cycle;

/**
 * The curve over its zero: what the observations say of the response to x whatever the zero is. The
 * constants are left out, with their rows of the covariance; the rest is as it was.
 */
export const overZero = (fit: PolynomialFit): PolynomialFit => {
  const kept = [...fit.powers.keys()].filter((k) => fit.powers[k] !== 0);
  const of = <T>(values: readonly T[]): T[] => kept.map((k) => values[k] as T);
  return {
    ...fit,
    powers: of(fit.powers),
    cycles: [],
    coefficients: of(fit.coefficients),
    covariance: of(fit.covariance).map((row) => of(row)),
  };
};

/** x to each power; of several constants only the first counts: the zero is the first cycle's. */
const basisAt = (powers: readonly number[], x: number): readonly number[] =>
  powers.map((power, k) => (power === 0 && k > 0 ? 0 : x ** power));

/** Value of the fitted curve at x, over the first cycle's zero, and the standard uncertainty of it. */
export const fittedAt = (
  { powers, coefficients, covariance }: Curve,
  x: number,
): { readonly value: number; readonly u: number } => {
  const basis = basisAt(powers, x);
  let variance = 0;
  for (const [i, bi] of basis.entries())
    for (const [j, bj] of basis.entries()) variance += bi * bj * (covariance[i]?.[j] ?? Number.NaN);
  return {
    value: basis.reduce((sum, entry, k) => sum + entry * (coefficients[k] as number), 0),
    u: Math.sqrt(Math.max(0, variance)),
  };
};

/** Slope of the fitted curve at x. */
export const slopeAt = ({ powers, coefficients }: Curve, x: number): number =>
  powers.reduce(
    (sum, power, index) =>
      power === 0 ? sum : sum + power * (coefficients[index] as number) * x ** (power - 1),
    0,
  );
