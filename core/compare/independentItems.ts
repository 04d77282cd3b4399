/** Rows of a square matrix. */
export type Matrix = readonly (readonly number[])[];

/** Items that stand for themselves, and what makes their changes uncorrelated with variance one. */
export interface IndependentItems {
  /** Places of the items kept, in order; the others are combinations of those before them. */
  readonly kept: readonly number[];
  /** L⁻¹·x of the kept entries of x, L the Cholesky factor of their covariance. */
  readonly whiten: (x: readonly number[]) => readonly number[];
}

/** What is left of a variance once the items before are known, against all of it: less is rounding. */
const DEPENDENT = 1e-8;

/**
 * Finds the items that are not combinations of earlier ones, in their order, by Cholesky
 * factorisation that passes over rows with nothing left (G. H. Golub and C. F. Van Loan, Matrix
 * Computations, 4th ed., 4.2.8, without the exchange of rows: whoever lists the items says which
 * come first). As many as the rank of the covariance. An item without variance is never kept.
 */
export const independentItems = (covariance: Matrix): IndependentItems => {
  const kept: number[] = [];
  const rows: number[][] = [];
  const solve = (x: (index: number) => number): number[] => {
    const out: number[] = [];
    for (const [a, index] of kept.entries()) {
      let sum = x(index);
      for (let b = 0; b < a; b += 1) sum -= (rows[a]?.[b] as number) * (out[b] as number);
      out.push(sum / (rows[a]?.[a] as number));
    }
    return out;
  };
  covariance.forEach((row, index) => {
    const own = row[index] as number;
    const before = solve((other) => row[other] as number);
    const left = own - before.reduce((sum, entry) => sum + entry * entry, 0);
    if (!(own > 0) || left <= DEPENDENT * own) return;
    rows.push([...before, Math.sqrt(left)]);
    kept.push(index);
  });
  return { kept, whiten: (x) => solve((index) => x[index] as number) };
};
