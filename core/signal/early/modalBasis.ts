/**
 * How a body on springs and dampers comes to rest, as functions of time: three damped second-order
 * modes (heave, pitch, roll) and one slow exponential (rubber, seals and gas that go on giving way).
 *
 * A mode is written as the free response of x″ + 2ζω·x′ + ω²·x = 0 to a unit displacement and to a
 * unit speed (times ω), the first row of the transition matrix. Both are entire functions of ω and ζ:
 * nothing happens to them at critical damping, where poles or exponents would coincide and break.
 */
export const MODES = 3;
/** Functions per pad: final value, slow part, two for each mode. */
export const FUNCTIONS = 2 + 2 * MODES;
/** Index of the first mode's functions. */
export const FIRST_MODE = 2;
/** What the pads share: ln ω of each mode, ζ of each mode, ln τ of the slow part. */
export const SHAPES = 2 * MODES + 1;
export const SLOW = SHAPES - 1;

/** Below this |1 − ζ²| the closed forms lose digits and their series is used. */
const NEARLY_CRITICAL = 1e-5;
/** Steps in time that differ by less are the same step, s. */
const SAME_STEP = 1e-12;

/** First row of the transition matrix over the angle θ = ωt: [φ₁, φ₂]; written to `out`. */
export const modeAt = (angle: number, damping: number, out: Float64Array): void => {
  const square = 1 - damping * damping;
  const decay = Math.exp(-damping * angle);
  const x = square * angle * angle;
  let cosine: number;
  let sine: number;
  if (Math.abs(square) < NEARLY_CRITICAL && Math.abs(x) < 0.1) {
    cosine = 1 - x / 2 + (x * x) / 24 - (x * x * x) / 720;
    sine = angle * (1 - x / 6 + (x * x) / 120 - (x * x * x) / 5040);
  } else if (square > 0) {
    const beta = Math.sqrt(square);
    cosine = Math.cos(beta * angle);
    sine = Math.sin(beta * angle) / beta;
  } else {
    // The two exponentials separately: cosh alone would overflow where the decay takes it back.
    const beta = Math.sqrt(-square);
    const slow = Math.exp((beta - damping) * angle);
    const fast = Math.exp((-beta - damping) * angle);
    const half = (slow - fast) / (2 * beta);
    out[0] = (slow + fast) / 2 + damping * half;
    out[1] = half;
    return;
  }
  out[0] = decay * (cosine + damping * sine);
  out[1] = decay * sine;
};

/** The columns of one pad: `stride` numbers apart, one row per sample. */
export interface Columns {
  readonly at: Float64Array;
  readonly stride: number;
}

/** Room for the columns of functions and of derivatives of `stride` samples. */
export const createColumns = (stride: number): Columns => ({
  at: new Float64Array((FUNCTIONS + SHAPES) * stride),
  stride,
});

/** Product of columns `a` and `b` over the first `count` rows; four sums, that do not wait for each other. */
export const columnProduct = (columns: Columns, a: number, b: number, count: number): number => {
  const { at, stride } = columns;
  const from = a * stride;
  const other = b * stride;
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let i = 0;
  for (; i + 3 < count; i += 4) {
    s0 += (at[from + i] as number) * (at[other + i] as number);
    s1 += (at[from + i + 1] as number) * (at[other + i + 1] as number);
    s2 += (at[from + i + 2] as number) * (at[other + i + 2] as number);
    s3 += (at[from + i + 3] as number) * (at[other + i + 3] as number);
  }
  for (; i < count; i += 1) s0 += (at[from + i] as number) * (at[other + i] as number);
  return s0 + s1 + (s2 + s3);
};

const step = new Float64Array(2);

/**
 * Fills the columns of functions for the first `count` times, in seconds from the window's beginning
 * and rising. Stepped by the transition matrix, so that evenly spaced samples cost no exponential.
 */
export const fillFunctions = (
  columns: Columns,
  times: Float64Array,
  count: number,
  shape: Float64Array,
): void => {
  const { at, stride } = columns;
  const slowRate = Math.exp(-(shape[SLOW] as number));
  let slow = 1;
  let slowStep = 1;
  let known = 0;
  let before = 0;
  for (let i = 0; i < count; i += 1) {
    const dt = (times[i] as number) - before;
    before = times[i] as number;
    if (Math.abs(dt - known) > SAME_STEP) {
      known = dt;
      slowStep = Math.exp(-slowRate * dt);
    }
    slow *= slowStep;
    at[i] = 1;
    at[stride + i] = slow;
  }
  for (let mode = 0; mode < MODES; mode += 1) {
    const omega = Math.exp(shape[mode] as number);
    const zeta = shape[MODES + mode] as number;
    const first = (FIRST_MODE + 2 * mode) * stride;
    const second = first + stride;
    let one = 1;
    let two = 0;
    // Transition over the known step: [[a, b], [−b, a − 2ζb]].
    let a = 1;
    let b = 0;
    known = 0;
    before = 0;
    for (let i = 0; i < count; i += 1) {
      const dt = (times[i] as number) - before;
      before = times[i] as number;
      if (Math.abs(dt - known) > SAME_STEP) {
        known = dt;
        modeAt(omega * dt, zeta, step);
        a = step[0] as number;
        b = step[1] as number;
      }
      const next = one * a - two * b;
      two = one * b + two * (a - 2 * zeta * b);
      one = next;
      at[first + i] = one;
      at[second + i] = two;
    }
  }
};

/**
 * Fills the columns that follow: derivatives of the pad's load by the shared shape, for its
 * coefficients (`FUNCTIONS` of them from `from` on). The functions must have been filled.
 * With q = (θ·cos βθ − sin βθ/β)/β², β² = 1 − ζ²: ∂φ₁/∂ζ = −e^(−ζθ)·q, ∂φ₂/∂ζ = −θφ₂ − ζe^(−ζθ)·q;
 * q has no pole at β = 0 (series −θ³/3 + …).
 */
export const fillDerivatives = (
  columns: Columns,
  times: Float64Array,
  count: number,
  shape: Float64Array,
  coefficients: Float64Array,
  from: number,
): void => {
  const { at, stride } = columns;
  for (let mode = 0; mode < MODES; mode += 1) {
    const omega = Math.exp(shape[mode] as number);
    const zeta = shape[MODES + mode] as number;
    const square = 1 - zeta * zeta;
    const critical = Math.abs(square) < NEARLY_CRITICAL;
    const first = (FIRST_MODE + 2 * mode) * stride;
    const second = first + stride;
    const byOmega = (FUNCTIONS + mode) * stride;
    const byZeta = (FUNCTIONS + MODES + mode) * stride;
    const a = coefficients[from + FIRST_MODE + 2 * mode] as number;
    const b = coefficients[from + FIRST_MODE + 1 + 2 * mode] as number;
    for (let i = 0; i < count; i += 1) {
      const angle = omega * (times[i] as number);
      const one = at[first + i] as number;
      const two = at[second + i] as number;
      at[byOmega + i] = angle * (b * (one - 2 * zeta * two) - a * two);
      let q: number;
      if (critical) {
        const x = square * angle * angle;
        q = Math.exp(-zeta * angle) * angle ** 3 * (-1 / 3 + x / 30 - (x * x) / 840);
      } else q = (angle * (one - zeta * two) - two) / square;
      at[byZeta + i] = -a * q - b * (angle * two + zeta * q);
    }
  }
  const slowRate = Math.exp(-(shape[SLOW] as number));
  const slow = (coefficients[from + 1] as number) * slowRate;
  const byTau = (FUNCTIONS + SLOW) * stride;
  for (let i = 0; i < count; i += 1)
    at[byTau + i] = slow * (times[i] as number) * (at[stride + i] as number);
};

/** What a pad's coefficients (from `from` on) expect at a time, N from its level. */
export const loadAt = (
  t: number,
  shape: Float64Array,
  coefficients: Float64Array,
  from: number,
): number => {
  let sum = coefficients[from] as number;
  sum += (coefficients[from + 1] as number) * Math.exp(-t / Math.exp(shape[SLOW] as number));
  for (let mode = 0; mode < MODES; mode += 1) {
    modeAt(Math.exp(shape[mode] as number) * t, shape[MODES + mode] as number, step);
    sum += (coefficients[from + FIRST_MODE + 2 * mode] as number) * (step[0] as number);
    sum += (coefficients[from + FIRST_MODE + 1 + 2 * mode] as number) * (step[1] as number);
  }
  return sum;
};
