/** Least-squares solution and the inverse of the normal matrix, from the triangular factor. */
export interface HouseholderSolution {
  readonly solution: readonly number[];
  /** (AᵀA)⁻¹ = R⁻¹R⁻ᵀ, row by row: never made from AᵀA itself, whose condition is squared. */
  readonly inverseNormal: readonly (readonly number[])[];
}

/** A diagonal of R this small against the largest means that the columns depend on one another. */
const DEPENDENT = 1e-12;

/**
 * Solves min |A·x − b| by Householder reflections (G. H. Golub and C. F. Van Loan, Matrix Computations,
 * 4th ed., algorithm 5.3.2). `rows` is A, at least as many rows as columns. Null where the columns
 * depend on one another.
 */
export const solveByHouseholder = (
  rows: readonly (readonly number[])[],
  right: readonly number[],
): HouseholderSolution | null => {
  const a = rows.map((row) => [...row]);
  const b = [...right];
  const n = rows[0]?.length ?? 0;
  const at = (i: number, j: number): number => (a[i] as number[])[j] as number;

  for (let k = 0; k < n; k += 1) {
    const size = Math.hypot(...a.slice(k).map((row) => row[k] as number));
    if (size === 0) return null;
    const alpha = at(k, k) > 0 ? -size : size;
    const v = a.slice(k).map((row) => row[k] as number);
    v[0] = (v[0] as number) - alpha;
    const vv = v.reduce((sum, each) => sum + each * each, 0);
    for (let j = k; j < n; j += 1) {
      const dot = v.reduce((sum, each, i) => sum + each * at(k + i, j), 0);
      for (const [i, each] of v.entries())
        (a[k + i] as number[])[j] = at(k + i, j) - (2 * dot * each) / vv;
    }
    const dot = v.reduce((sum, each, i) => sum + each * (b[k + i] as number), 0);
    for (const [i, each] of v.entries()) b[k + i] = (b[k + i] as number) - (2 * dot * each) / vv;
  }

  const diagonal = Array.from({ length: n }, (_, k) => Math.abs(at(k, k)));
  if (Math.min(...diagonal) < DEPENDENT * Math.max(...diagonal)) return null;
  const backSubstitute = (c: readonly number[]): number[] => {
    const x = new Array<number>(n).fill(0);
    for (let i = n - 1; i >= 0; i -= 1) {
      let sum = c[i] as number;
      for (let j = i + 1; j < n; j += 1) sum -= at(i, j) * (x[j] as number);
      x[i] = sum / at(i, i);
    }
    return x;
  };
  const columns = Array.from({ length: n }, (_, k) =>
    backSubstitute(Array.from({ length: n }, (_unused, i) => (i === k ? 1 : 0))),
  );
  const inverseNormal = Array.from({ length: n }, (_, i) =>
    Array.from({ length: n }, (_unused, j) =>
      columns.reduce((sum, column) => sum + (column[i] as number) * (column[j] as number), 0),
    ),
  );
  return { solution: backSubstitute(b), inverseNormal };
};
