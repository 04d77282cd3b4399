/**
 * Factors the lower triangle of a symmetric positive definite matrix in place, row by row, `size`
 * wide (A = L·Lᵀ: G. H. Golub and C. F. Van Loan, Matrix Computations, 4th ed., algorithm 4.2.1).
 * False where it is not positive definite to rounding; then the content is spoilt.
 */
export const factor = (a: Float64Array, size: number): boolean => {
  for (let i = 0; i < size; i += 1) {
    const row = i * size;
    for (let j = 0; j <= i; j += 1) {
      const other = j * size;
      let sum = a[row + j] as number;
      for (let k = 0; k < j; k += 1) sum -= (a[row + k] as number) * (a[other + k] as number);
      if (i === j) {
        if (!(sum > 0) || sum === Infinity) return false;
        a[row + i] = Math.sqrt(sum);
      } else a[row + j] = sum / (a[other + j] as number);
    }
  }
  return true;
};

/** Solves L·Lᵀ·x = b in place, of a factored matrix. */
export const solveFactored = (l: Float64Array, size: number, b: Float64Array): void => {
  for (let i = 0; i < size; i += 1) {
    let sum = b[i] as number;
    for (let k = 0; k < i; k += 1) sum -= (l[i * size + k] as number) * (b[k] as number);
    b[i] = sum / (l[i * size + i] as number);
  }
  for (let i = size - 1; i >= 0; i -= 1) {
    let sum = b[i] as number;
    for (let k = i + 1; k < size; k += 1) sum -= (l[k * size + i] as number) * (b[k] as number);
    b[i] = sum / (l[i * size + i] as number);
  }
};

/** Writes the inverse of a factored matrix to `out`, whole; `work` is room for `size` numbers. */
export const invertFactored = (
  l: Float64Array,
  size: number,
  out: Float64Array,
  work: Float64Array,
): void => {
  for (let column = 0; column < size; column += 1) {
    work.fill(0, 0, size);
    work[column] = 1;
    solveFactored(l, size, work);
    for (let i = 0; i < size; i += 1) out[i * size + column] = work[i] as number;
  }
};
