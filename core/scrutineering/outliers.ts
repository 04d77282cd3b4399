import { fTail } from '../statistics/fDistribution.ts';

/** Wrongly marked once in so many sets without any outlier. */
const LEVEL = 0.05;

/**
 * Deleted residual of one of `count`: held against the scatter of the others it is Student's t
 * with one degree of freedom less (F. E. Grubbs, Technometrics 11 (1969) 1, in its equivalent form).
 * Marked where its two-sided probability is below the level, shared by all (Bonferroni).
 */
const stands = (
  residual: number,
  {
    leverage,
    squares,
    dof,
    count,
  }: Readonly<Record<'leverage' | 'squares' | 'dof' | 'count', number>>,
): boolean => {
  const own = residual ** 2 / (1 - leverage);
  const others = (squares - own) / (dof - 1);
  // What differs from others that agree to the last digit stands out, but rounding does not.
  if (!(others > 1e-18 * squares)) return own > 0.5 * squares && squares > 0;
  return fTail(own / others, 1, dof - 1) < LEVEL / count;
};

/** Events whose mean stands out from those of the others; needs three. */
export const outlyingEvents = (means: readonly number[]): readonly boolean[] => {
  const count = means.length;
  if (count < 3) return means.map(() => false);
  const mean = means.reduce((sum, value) => sum + value, 0) / count;
  const squares = means.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  return means.map((value) =>
    stands(value - mean, { leverage: 1 / count, squares, dof: count - 1, count }),
  );
};

/**
 * Pairs that stand out from the others of their event, against the scatter within all events; needs
 * two degrees of freedom. In an event of two, which of them it is cannot be told and both are marked.
 */
export const outlyingPairs = (
  groups: readonly (readonly number[])[],
): readonly (readonly boolean[])[] => {
  const means = groups.map((group) => group.reduce((sum, value) => sum + value, 0) / group.length);
  const residuals = groups.map((group, i) => group.map((value) => value - (means[i] as number)));
  const squares = residuals.flat().reduce((sum, residual) => sum + residual ** 2, 0);
  const dof = residuals.flat().length - groups.length;
  const count = groups.filter((group) => group.length > 1).flat().length;
  return residuals.map((group) =>
    group.map(
      (residual) =>
        group.length > 1 &&
        dof >= 2 &&
        stands(residual, { leverage: 1 / group.length, squares, dof, count }),
    ),
  );
};
