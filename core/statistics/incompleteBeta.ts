/** Terms of the continued fraction; it converges in O(√max(a, b)) of them. */
const MOST_TERMS = 500;
const SMALL = 1e-300;
const ENOUGH = 1e-15;

/** Lanczos coefficients, g = 7, n = 9: P. Godfrey's set, error below 1e-15 for positive arguments. */
const LANCZOS = [
  0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313,
  -176.61502916214059, 12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6,
  1.5056327351493116e-7,
] as const;

/** ln Γ(z) for z > 0: C. Lanczos, SIAM J. Numer. Anal. 1 (1964) 86. */
export const logGamma = (z: number): number => {
  if (!(z > 0)) throw new RangeError(`ln Γ is for arguments above zero: ${z}`);
  if (z < 0.5) return Math.log(Math.PI / Math.sin(Math.PI * z)) - logGamma(1 - z);
  const x = z - 1;
  const t = x + 7.5;
  const sum = LANCZOS.reduce(
    (total, coefficient, index) => total + (index === 0 ? coefficient : coefficient / (x + index)),
    0,
  );
  return 0.5 * Math.log(2 * Math.PI) + (x + 0.5) * Math.log(t) - t + Math.log(sum);
};

/**
 * Regularised incomplete beta function I_x(a, b) by its continued fraction (NIST DLMF 8.17.22),
 * evaluated by Lentz's method. Throws RangeError outside 0 ≤ x ≤ 1 or for a, b not above zero.
 */
export const incompleteBeta = (x: number, a: number, b: number): number => {
  if (!(x >= 0 && x <= 1)) throw new RangeError(`not within 0 and 1: ${x}`);
  if (!(a > 0 && b > 0)) throw new RangeError(`must be above zero: ${a}, ${b}`);
  if (x === 0 || x === 1) return x;
  // The fraction converges fast on this side of the mean; the other follows by symmetry.
  if (x > (a + 1) / (a + b + 2)) return 1 - incompleteBeta(1 - x, b, a);
  const front = Math.exp(
    logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log1p(-x),
  );
  const term = (n: number): number => {
    const m = Math.floor(n / 2);
    return n % 2 === 0
      ? (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m))
      : (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
  };
  let c = 1;
  let d = 0;
  let fraction = 1;
  for (let n = 0; n < MOST_TERMS; n += 1) {
    const numerator = n === 0 ? 1 : term(n);
    d = 1 + numerator * d;
    if (Math.abs(d) < SMALL) d = SMALL;
    d = 1 / d;
    c = 1 + numerator / c;
    if (Math.abs(c) < SMALL) c = SMALL;
    fraction *= c * d;
    if (n > 0 && Math.abs(c * d - 1) < ENOUGH) break;
  }
  return (front / a) * (fraction - 1);
};
