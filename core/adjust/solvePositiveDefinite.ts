/**
 * Solves A·x = b for a symmetric positive definite A by elimination without row exchanges: for such
 * a matrix that is backward stable, every pivot is positive, and a pivot that is not shows that A
 * is no stiffness of a stable structure (Golub & Van Loan, Matrix Computations, 4th ed., 4.2).
 *
 * `matrix` holds the rows one after another, n × n; neither argument is changed.
 * Throws RangeError where A is not positive definite.
 */
export const solvePositiveDefinite = (
  matrix: readonly number[],
  right: readonly number[],
): readonly number[] => {
  const n = right.length;
  const a = Float64Array.from(matrix);
  const x = Float64Array.from(right);
  if (a.length !== n * n) throw new RangeError(`not a ${n} by ${n} matrix`);
  const at = (row: number, column: number): number => a[row * n + column] as number;
  for (let pivot = 0; pivot < n; pivot += 1) {
    const p = at(pivot, pivot);
    // Rounding leaves some 1e-16 of the diagonal where the exact pivot is zero.
    if (!(p > 1e-13 * Math.abs(matrix[pivot * n + pivot] as number)))
      throw new RangeError('the matrix is not positive definite');
    for (let row = pivot + 1; row < n; row += 1) {
      const factor = at(row, pivot) / p;
      if (factor === 0) continue;
      for (let column = pivot; column < n; column += 1)
        a[row * n + column] = at(row, column) - factor * at(pivot, column);
      x[row] = (x[row] as number) - factor * (x[pivot] as number);
    }
  }
  for (let row = n - 1; row >= 0; row -= 1) {
    let sum = x[row] as number;
    for (let column = row + 1; column < n; column += 1)
      sum -= at(row, column) * (x[column] as number);
    x[row] = sum / at(row, row);
  }
  return [...x];
};
