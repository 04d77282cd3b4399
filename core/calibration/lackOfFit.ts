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

/**
 * Lack of fit against pure error (NIST/SEMATECH e-Handbook, 4.6.1 and 4.4.4.6), weights all one. Null
 * where no load was applied twice, or no degree of freedom is left for the lack of fit: then the
 * evidence does not exist, whatever the residuals look like.
 */
export const lackOfFit = (
  observations: readonly Observation[],
  fit: PolynomialFit,
): LackOfFit | null => {
  const groups = Map.groupBy(observations, ({ x }) => x);
  let pure = 0;
  for (const group of groups.values()) {
    const mean = group.reduce((sum, { y }) => sum + y, 0) / group.length;
    for (const { y } of group) pure += (y - mean) ** 2;
  }
  const dofPure = observations.length - groups.size;
  const dofLack = groups.size - fit.powers.length;
  if (dofPure < 1 || dofLack < 1 || !(pure > 0)) return null;
  const total = fit.residuals.reduce((sum, residual) => sum + residual ** 2, 0);
  return {
    f: (total - pure) / dofLack / (pure / dofPure),
    dofLack,
    dofPure,
    pureErrorSd: Math.sqrt(pure / dofPure),
  };
};
