import { symmetricEigen } from '../statistics/symmetricEigen.ts';
import type { FourNumbers, LoweringCell, LoweringScatter } from './repeatabilityLowering.ts';

/** An eigenvalue of the normal matrix this small against the largest is zero. */
const NOTHING = 1e-9;

/** Inner product of two lists of equal length. */
export const dot = (a: readonly number[], b: readonly number[]): number =>
  a.reduce((sum, each, index) => sum + each * (b[index] as number), 0);

/** The linear model of a swap: parameters are four corners, the pads, and a warp for each cell. */
export interface SwapModel {
  readonly width: number;
  /** Lowerings behind each row. */
  readonly counts: readonly number[];
  /** One row for each corner of each cell. */
  readonly rows: readonly (readonly number[])[];
  readonly pseudoInverse: readonly (readonly number[])[];
  readonly nullSpace: readonly (readonly number[])[];
}

/** Builds the model, each cell mean weighted by its number of lowerings. */
export const swapModel = (
  cells: readonly LoweringCell[],
  pads: readonly string[],
  pattern: FourNumbers | null,
): SwapModel => {
  const width = 4 + pads.length + (pattern ? cells.length : 0);
  const rows = cells.flatMap((cell, a) =>
    cell.pads.map((pad, j) => {
      const row = new Array<number>(width).fill(0);
      row[j] = 1;
      row[4 + pads.indexOf(pad)] = 1;
      if (pattern) row[4 + pads.length + a] = pattern[j] as number;
      return row;
    }),
  );
  const counts = cells.flatMap(({ weights: { length } }) => [length, length, length, length]);
  const normal = Array.from({ length: width }, (_, i) =>
    Array.from({ length: width }, (_unused, k) =>
      rows.reduce(
        (sum, row, index) =>
          sum + (counts[index] as number) * (row[i] as number) * (row[k] as number),
        0,
      ),
    ),
  );
  const { values, vectors } = symmetricEigen(normal);
  const least = NOTHING * Math.max(...values);
  const pseudoInverse = normal.map((row, i) =>
    row.map((_, k) =>
      values.reduce((sum, value, index) => {
        const vector = vectors[index] ?? [];
        return value > least ? sum + ((vector[i] as number) * (vector[k] as number)) / value : sum;
      }, 0),
    ),
  );
  return {
    width,
    counts,
    rows,
    pseudoInverse,
    nullSpace: vectors.filter((_, i) => (values[i] as number) <= least),
  };
};

/**
 * Weights of the cell means in the least-squares estimate of a combination l of the parameters,
 * W·X·(XᵀWX)⁺·l; null where the null space of the model reaches l, which is then not estimable.
 */
export const weightsOf = (
  model: SwapModel,
  combination: readonly number[],
): readonly number[] | null => {
  const size = Math.hypot(...combination);
  if (model.nullSpace.some((vector) => Math.abs(dot(vector, combination)) > 1e-6 * size))
    return null;
  const solved = model.pseudoInverse.map((row) => dot(row, combination));
  return model.rows.map((row, index) => (model.counts[index] as number) * dot(row, solved));
};

/** Standard uncertainty of a weighted sum of cell means, from the scatter of single lowerings. */
export const sdOf = (
  weights: readonly number[],
  cells: readonly LoweringCell[],
  { covariance }: LoweringScatter,
): number => {
  let variance = 0;
  for (const [a, cell] of cells.entries())
    for (let i = 0; i < 4; i += 1)
      for (let j = 0; j < 4; j += 1)
        variance +=
          ((weights[4 * a + i] as number) *
            (weights[4 * a + j] as number) *
            (covariance[4 * i + j] as number)) /
          cell.weights.length;
  return Math.sqrt(Math.max(0, variance));
};
