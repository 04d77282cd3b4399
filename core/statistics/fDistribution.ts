import { incompleteBeta } from './incompleteBeta.ts';

/**
 * Probability that a ratio of variances with these degrees of freedom is above `f` by chance alone:
 * 1 − I_{d1·f/(d1·f + d2)}(d1/2, d2/2) (NIST DLMF 8.17 with the definition of Fisher's distribution).
 * Throws RangeError for f below zero or degrees of freedom not above zero.
 */
export const fTail = (f: number, d1: number, d2: number): number => {
  if (!(f >= 0)) throw new RangeError(`not a ratio of variances: ${f}`);
  if (f === Infinity) return 0;
  return incompleteBeta(d2 / (d2 + d1 * f), d2 / 2, d1 / 2);
};
