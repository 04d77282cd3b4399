/**
 * Two-sided quantile of Student's t: |t| is above the answer with probability `tail`. Degrees of
 * freedom are rounded down, which errs to the safe side; Infinity gives the normal quantile. Exact
 * for 1 and 2, else G. W. Hill, Algorithm 396, Comm. ACM 13 (1970) 619, good to about 1 in 10⁵.
 * Throws RangeError unless 0 < tail < 1 and dof >= 1.
 */
export const studentT = (tail: number, dof: number): number => {
  const n = Math.floor(dof);
  if (!(tail > 0 && tail < 1)) throw new RangeError(`not a tail: ${tail}`);
  if (!(n >= 1)) throw new RangeError(`not degrees of freedom: ${dof}`);
  if (n === 1) return 1 / Math.tan((tail * Math.PI) / 2);
  // √(2/(p(2 − p)) − 2), written so that nothing cancels near p = 1.
  if (n === 2) return (1 - tail) * Math.sqrt(2 / (tail * (2 - tail)));
  const z = upperNormal(tail / 2);
  if (n > 1e6) return z;

  const a = 1 / (n - 0.5);
  const b = 48 / (a * a);
  let c = ((20700 * (a / b) - 98) * a - 16) * a + 96.36;
  const d = ((94.5 / (b + c) - 3) / b + 1) * Math.sqrt((a * Math.PI) / 2) * n;
  let y = (d * tail) ** (2 / n);
  if (y > 0.05 + a) {
    const x = -z;
    y = x * x;
    if (n < 5) c += 0.3 * (n - 4.5) * (x + 0.6);
    c = (((0.05 * d * x - 5) * x - 7) * x - 2) * x + b + c;
    y = (((((0.4 * y + 6.3) * y + 36) * y + 94.5) / c - y - 3) / b + 1) * x;
    y = Math.expm1(a * y * y);
  } else {
    const tailed = 1 / (((n + 6) / (n * y) - 0.089 * d - 0.822) * (n + 2) * 3) + 0.5 / (n + 4);
    y = ((tailed * y - 1) * (n + 1)) / (n + 2) + 1 / y;
  }
  return Math.sqrt(n * y);
};

/**
 * Standard normal deviate exceeded with probability `p` < ½: M. J. Wichura, Algorithm AS 241 (PPND7),
 * Appl. Stat. 37 (1988) 477, about 7 digits.
 */
const upperNormal = (p: number): number => {
  const q = 0.5 - p;
  if (q <= 0.425) {
    const r = 0.180625 - q * q;
    return (
      (q * (((59.10937472 * r + 159.29113202) * r + 50.434271938) * r + 3.3871327179)) /
      (((67.1875636 * r + 78.757757664) * r + 17.895169469) * r + 1)
    );
  }
  const r = Math.sqrt(-Math.log(p));
  if (r <= 5) {
    const s = r - 1.6;
    return (
      (((0.17023821103 * s + 1.3067284816) * s + 2.75681539) * s + 1.4234372777) /
      ((0.12021132975 * s + 0.7370016425) * s + 1)
    );
  }
  const s = r - 5;
  return (
    (((0.017337203997 * s + 0.42868294337) * s + 3.081226386) * s + 6.657905115) /
    ((0.012258202635 * s + 0.24197894225) * s + 1)
  );
};
