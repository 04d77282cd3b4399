/** Eigenvalues, and eigenvectors as rows in the same order. */
export interface SymmetricEigen {
  readonly values: readonly number[];
  readonly vectors: readonly (readonly number[])[];
}

/** Cyclic Jacobi converges quadratically: a dozen sweeps are plenty for any small matrix. */
const MOST_SWEEPS = 50;

/**
 * Eigenvalues and vectors of a small symmetric matrix by cyclic Jacobi rotations (G. H. Golub and C. F.
 * Van Loan, Matrix Computations, 4th ed., 8.5): slow and safe, and its null space is orthonormal.
 */
export const symmetricEigen = (matrix: readonly (readonly number[])[]): SymmetricEigen => {
  const n = matrix.length;
  const a = matrix.map((row) => [...row]);
  const v = matrix.map((_, i) => matrix.map((_unused, j) => (i === j ? 1 : 0)));
  const at = (i: number, j: number): number => (a[i] as number[])[j] as number;
  for (let sweep = 0; sweep < MOST_SWEEPS; sweep += 1) {
    let off = 0;
    let all = 0;
    for (let i = 0; i < n; i += 1)
      for (let j = 0; j < n; j += 1) {
        all += at(i, j) ** 2;
        if (i !== j) off += at(i, j) ** 2;
      }
    if (off <= 1e-30 * all) break;
    for (let p = 0; p < n - 1; p += 1)
      for (let q = p + 1; q < n; q += 1) {
        if (at(p, q) === 0) continue;
        const tau = (at(q, q) - at(p, p)) / (2 * at(p, q));
        const t = (tau >= 0 ? 1 : -1) / (Math.abs(tau) + Math.hypot(1, tau));
        const c = 1 / Math.hypot(1, t);
        const s = t * c;
        for (let k = 0; k < n; k += 1) {
          const row = a[k] as number[];
          const [kp, kq] = [row[p] as number, row[q] as number];
          row[p] = c * kp - s * kq;
          row[q] = s * kp + c * kq;
        }
        const [rowP, rowQ] = [a[p] as number[], a[q] as number[]];
        const [vP, vQ] = [v[p] as number[], v[q] as number[]];
        for (let k = 0; k < n; k += 1) {
          const [pk, qk] = [rowP[k] as number, rowQ[k] as number];
          rowP[k] = c * pk - s * qk;
          rowQ[k] = s * pk + c * qk;
          const [vpk, vqk] = [vP[k] as number, vQ[k] as number];
          vP[k] = c * vpk - s * vqk;
          vQ[k] = s * vpk + c * vqk;
        }
      }
  }
  return { values: a.map((row, i) => row[i] as number), vectors: v };
};
