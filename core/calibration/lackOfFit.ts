import type { Observation, PolynomialFit } from './polynomialFit.ts';

/** Whether what the curve leaves is more than readings at one and the same load scatter. */
export interface LackOfFit {
  /** Mean square of the lack of fit over that of the pure error. */
  readonly f: number;
  readonly dofLack: number;
  readonly dofPure: number;
  /** Standard deviation of readings at the same load, pooled. */
  readonly pureErrorSd: number;
}

/** Sum of squares about the means of the groups, each by its weights, and the number of groups. */
const within = (
  values: readonly { readonly residual: number; readonly weight: number }[],
  groupOf: (index: number) => string,
): { readonly squares: number; readonly groups: number } => {
  const groups = Map.groupBy(values.keys(), groupOf);
  let squares = 0;
  for (const indices of groups.values()) {
    const group = indices.flatMap((index) => values[index] ?? []);
    const weights = group.reduce((sum, { weight }) => sum + weight, 0);
    const mean = group.reduce((sum, each) => sum + each.weight * each.residual, 0) / weights;
    for (const { residual, weight } of group) squares += weight * (residual - mean) ** 2;
  }
  return { squares, groups: groups.size };
};

/**
 * Lack of fit against pure error (NIST/SEMATECH e-Handbook, 4.6.1 and 4.4.4.6), each observation by its
 * weight. Readings of one load reached from the same side are the pure error, so that hysteresis is
 * none of it; where no load was reached twice from one side, those from both sides have to do, and
 * hysteresis then counts as scatter. Residuals are compared, not readings, so that the zeros of several
 * cycles and the last grams of loads meant to be the same are out of it; the degrees of freedom for the
 * zeros are those of a balanced plan, each load in each cycle.
 *
 * Null where no load was applied twice, or no degree of freedom is left for the lack of fit: then the
 * evidence does not exist, whatever the residuals look like.
 */
export const lackOfFit = (
  observations: readonly Observation[],
  fit: PolynomialFit,
): LackOfFit | null => {
  const values = fit.residuals.map((residual, index) => ({
    residual,
    weight: observations[index]?.weight ?? 1,
  }));
  const loadOf = (index: number): string => {
    const { x, load } = observations[index] as Observation;
    return load === undefined ? `x ${x}` : `load ${load}`;
  };
  const loads = within(values, loadOf);
  const cells = within(values, (index) => `${loadOf(index)} ${observations[index]?.side ?? ''}`);
  const zeros = Math.max(0, fit.cycles.length - 1);
  const dofOf = (groups: number): number => observations.length - groups - zeros;
  const dofLack = fit.dof - dofOf(loads.groups);
  const pure = dofOf(cells.groups) >= 1 && cells.squares > 0 ? cells : loads;
  const dofPure = dofOf(pure.groups);
  if (dofPure < 1 || dofLack < 1 || !(pure.squares > 0)) return null;
  const total = values.reduce((sum, { residual, weight }) => sum + weight * residual ** 2, 0);
  return {
    f: Math.max(0, total - loads.squares) / dofLack / (pure.squares / dofPure),
    dofLack,
    dofPure,
    pureErrorSd: Math.sqrt(pure.squares / dofPure),
  };
};
