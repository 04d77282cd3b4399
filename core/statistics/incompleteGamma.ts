import { logGamma } from './incompleteBeta.ts';

/** Terms of series or fraction; either converges in O(√a) of them on its side. */
const MOST_TERMS = 2000;
const ENOUGH = 1e-16;
const SMALL = 1e-300;

/**
 * Regularised lower incomplete gamma function P(a, x): by its series below a + 1 (NIST DLMF 8.11.4),
 * above by the continued fraction of its complement (8.9.2). Throws RangeError for a not above zero or
 * x below zero.
 */
export const incompleteGamma = (a: number, x: number): number => {
  if (!(a > 0) || a === Infinity) throw new RangeError(`must be above zero: ${a}`);
  if (!(x >= 0)) throw new RangeError(`not an argument of the incomplete gamma function: ${x}`);
  if (x === 0) return 0;
  if (x === Infinity) return 1;
  const front = Math.exp(a * Math.log(x) - x - logGamma(a));
  if (x < a + 1) {
    let term = 1 / a;
    let sum = term;
    for (let n = 1; n < MOST_TERMS && term > sum * ENOUGH; n += 1) {
      term *= x / (a + n);
      sum += term;
    }
    return front * sum;
  }
  let b = x + 1 - a;
  let c = 1 / SMALL;
  let d = 1 / b;
  let fraction = d;
  for (let n = 1; n < MOST_TERMS; n += 1) {
    const an = -n * (n - a);
    b += 2;
    d = an * d + b;
    if (Math.abs(d) < SMALL) d = SMALL;
    c = b + an / c;
    if (Math.abs(c) < SMALL) c = SMALL;
    d = 1 / d;
    fraction *= c * d;
    if (Math.abs(c * d - 1) < ENOUGH) break;
  }
  return 1 - front * fraction;
};

/** Probability that a standard normal deviate is at most `z`: ½ ± ½·P(½, z²/2) (NIST DLMF 7.11.1). */
export const normalProbability = (z: number): number =>
  0.5 + 0.5 * Math.sign(z) * incompleteGamma(0.5, (z * z) / 2);
