/** Regula falsi halves the error at least every third step; doubles have 52 bits. */
const MOST_STEPS = 200;

/**
 * Root of a continuous function between two points where it has different signs: regula falsi with
 * the Illinois rule (M. Dowell and P. Jarratt, BIT 11 (1971) 168), to about the last digit.
 * Throws RangeError where the signs are the same.
 */
export const findRoot = (f: (x: number) => number, from: number, to: number): number => {
  let [a, b] = [from, to];
  let [fa, fb] = [f(a), f(b)];
  if (fa === 0) return a;
  if (fb === 0) return b;
  if (!(fa * fb < 0)) throw new RangeError(`no change of sign between ${from} and ${to}`);
  for (let step = 0; step < MOST_STEPS; step += 1) {
    const x = b - (fb * (b - a)) / (fb - fa);
    if (x === a || x === b || Math.abs(b - a) <= 1e-14 * Math.abs(x)) return x;
    const fx = f(x);
    if (fx === 0) return x;
    if (fx * fb < 0) {
      a = b;
      fa = fb;
    } else fa /= 2;
    if (Math.abs(x - b) <= 1e-15 * Math.abs(x)) return x;
    b = x;
    fb = fx;
  }
  return b;
};
