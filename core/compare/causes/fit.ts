import type { Cause } from './causeList.ts';

/** A cause in whitened items: uncorrelated, each with variance one. */
export interface WhitenedCause {
  readonly cause: Cause;
  readonly signature: readonly number[];
  /** One standard uncertainty of the car's rates, per unit of size. */
  readonly doubt: readonly number[];
  /** Degrees of freedom of what the items that show it scatter. */
  readonly dof: number;
}

export interface Sized {
  readonly size: number;
  readonly u: number;
}

/** A fit of one or two causes. */
export interface Fit {
  readonly sizes: readonly Sized[];
  /** Weighted squares that are left. */
  readonly rest: number;
  /** −2 ln L but for what all fits share: `rest`, and the price of the rates' error that it allows. */
  readonly misfit: number;
}

export const inner = (a: readonly number[], b: readonly number[]): number => {
  let sum = 0;
  for (let i = 0; i < a.length; i += 1) sum += (a[i] as number) * (b[i] as number);
  return sum;
};

/**
 * Whitens further, for one more independent source of error along `g`: multiplies by (I + g·gᵀ)^(−1/2).
 * Gives the vectors and ln det(I + g·gᵀ).
 */
const widen = (
  vectors: readonly (readonly number[])[],
  g: readonly number[],
): { readonly vectors: readonly (readonly number[])[]; readonly logDet: number } => {
  const gg = inner(g, g);
  if (gg < 1e-12) return { vectors, logDet: 0 };
  const factor = (1 - 1 / Math.sqrt(1 + gg)) / gg;
  return {
    vectors: vectors.map((vector) => {
      const along = factor * inner(g, vector);
      return vector.map((entry, index) => entry - along * (g[index] as number));
    }),
    logDet: Math.log1p(gg),
  };
};

const scaled = (vector: readonly number[], by: number): readonly number[] =>
  vector.map((entry) => entry * by);

/**
 * Least squares of the whitened change `y` by one cause. The error of the car's rates grows with the size
 * of the cause; it is taken at the size that is fitted without it.
 */
export const fitOne = (y: readonly number[], { signature, doubt }: WhitenedCause): Fit => {
  const first = inner(signature, y) / inner(signature, signature);
  const { vectors, logDet } = widen([y, signature], scaled(doubt, first));
  const [change, pattern] = vectors as [readonly number[], readonly number[]];
  const square = inner(pattern, pattern);
  const size = inner(pattern, change) / square;
  const rest = Math.max(0, inner(change, change) - size * size * square);
  return { sizes: [{ size, u: 1 / Math.sqrt(square) }], rest, misfit: rest + logDet };
};

/** Patterns closer than this (1 − cos²) are one and the same to a fit of two. */
const PARALLEL = 1e-4;

const solveTwo = (y: readonly number[], a: readonly number[], b: readonly number[]): Fit | null => {
  const [aa, bb, ab] = [inner(a, a), inner(b, b), inner(a, b)];
  const determinant = aa * bb - ab * ab;
  if (determinant < PARALLEL * aa * bb) return null;
  const [ay, by] = [inner(a, y), inner(b, y)];
  const sizeA = (bb * ay - ab * by) / determinant;
  const sizeB = (aa * by - ab * ay) / determinant;
  const rest = Math.max(0, inner(y, y) - sizeA * ay - sizeB * by);
  return {
    sizes: [
      { size: sizeA, u: Math.sqrt(bb / determinant) },
      { size: sizeB, u: Math.sqrt(aa / determinant) },
    ],
    rest,
    misfit: rest,
  };
};

/** The same by two causes at once; null where they are too alike to be told apart in a sum. */
export const fitTwo = (
  y: readonly number[],
  one: WhitenedCause,
  other: WhitenedCause,
): Fit | null => {
  const first = solveTwo(y, one.signature, other.signature);
  if (!first) return null;
  const [a, b] = first.sizes as [Sized, Sized];
  const wide = widen(
    [y, one.signature, other.signature, scaled(other.doubt, b.size)],
    scaled(one.doubt, a.size),
  );
  const again = widen(wide.vectors.slice(0, 3), wide.vectors[3] as readonly number[]);
  const [change, patternA, patternB] = again.vectors as [
    readonly number[],
    readonly number[],
    readonly number[],
  ];
  const fit = solveTwo(change, patternA, patternB);
  return fit && { ...fit, misfit: fit.rest + wide.logDet + again.logDet };
};
