import { solveByHouseholder } from '../calibration/householder.ts';
import type { Network, NetworkRow } from './network.ts';

/** A network solved by weighted least squares. */
export interface Adjustment {
  readonly network: Network;
  /** Standard deviation of one sight that the weights were made of. */
  readonly sd: number;
  readonly solution: readonly number[];
  /** Covariance of the unknowns: what the sights' scatter makes of it, and what is known beforehand. */
  readonly scattered: readonly (readonly number[])[];
  readonly known: readonly (readonly number[])[];
  /** Reading less adjusted reading of each row that is a sight, in their order. */
  readonly residuals: readonly number[];
  /** How much of an error in each sight shows in its residual, 0 to 1. */
  readonly redundancy: readonly number[];
  /** Σ of residuals squared over the sights, m². */
  readonly squares: number;
  /** Degrees of freedom of `squares`: the sum of the redundancies. */
  readonly dof: number;
}

const dot = (a: readonly number[], b: readonly number[]): number =>
  a.reduce((sum, value, i) => sum + value * (b[i] as number), 0);

/** Covariance of the unknowns, both parts together. */
export const covarianceOf = (adjustment: Adjustment): readonly (readonly number[])[] =>
  adjustment.scattered.map((row, i) =>
    row.map((value, j) => value + ((adjustment.known[i] as number[])[j] as number)),
  );

/**
 * Solves the network with sights of standard deviation `sd`, metre, and what is known beforehand with
 * its own uncertainties (generalised least squares: E. M. Mikhail, Observations and Least Squares,
 * 1976, for the redundancies too). Null where the unknowns cannot be told apart.
 */
export const adjust = (network: Network, sd: number): Adjustment | null => {
  if (!(sd > 0) || network.rows.length < network.unknowns) return null;
  const size = (row: NetworkRow): number => row.u ?? sd;
  const weighted = network.rows.map((row) => row.over.map((value) => value / size(row)));
  // Columns of like length, so that dependence is judged and not the size of a unit.
  const scales = Array.from({ length: network.unknowns }, (_, k) =>
    Math.hypot(...weighted.map((row) => row[k] as number)),
  );
  if (scales.some((scale) => !(scale > 0))) return null;
  const solved = solveByHouseholder(
    weighted.map((row) => row.map((value, k) => value / (scales[k] as number))),
    network.rows.map((row) => row.right / size(row)),
  );
  if (!solved) return null;
  const solution = solved.solution.map((value, k) => value / (scales[k] as number));
  const inverse = solved.inverseNormal.map((row, i) =>
    row.map((value, j) => value / ((scales[i] as number) * (scales[j] as number))),
  );
  // x = Q·Aᵀ·y with y of unit variance: each row's share of the covariance is the outer product of
  // its column of Q·Aᵀ.
  const gains = weighted.map((row) => inverse.map((line) => dot(line, row)));
  const share = (of: (row: NetworkRow) => boolean): number[][] => {
    const sum = inverse.map((line) => line.map(() => 0));
    network.rows.forEach((row, k) => {
      if (!of(row)) return;
      const gain = gains[k] as number[];
      for (const [i, a] of gain.entries()) {
        const line = sum[i] as number[];
        for (const [j, b] of gain.entries()) line[j] = (line[j] as number) + a * b;
      }
    });
    return sum;
  };
  const sights = network.rows.flatMap((row, k) => (row.sight === null ? [] : [k]));
  const residuals = sights.map((k) => {
    const row = network.rows[k] as NetworkRow;
    return row.right - dot(row.over, solution);
  });
  const redundancy = sights.map(
    (k) => 1 - dot(weighted[k] as readonly number[], gains[k] as readonly number[]),
  );
  return {
    network,
    sd,
    solution,
    scattered: share((row) => row.sight !== null),
    known: share((row) => row.sight === null),
    residuals,
    redundancy,
    squares: residuals.reduce((sum, each) => sum + each * each, 0),
    dof: redundancy.reduce((sum, each) => sum + each, 0),
  };
};
