import { factor, invertFactored } from '../../core/signal/early/cholesky.ts';

/**
 * The least standard deviations that any unbiased estimate of the four settled loads can have: the
 * Cramér–Rao bound (S. M. Kay, Fundamentals of Statistical Signal Processing: Estimation Theory, 1993,
 * section 3.9) for white normal noise of known size, four pads, and damped modes whose frequencies and
 * dampings the pads share and whose sizes and phases they do not. No priors and no slow part: what the
 * estimator is held against, not what it uses.
 */
export interface BoundProblem {
  /** ω, rad/s, and ζ of each mode. */
  readonly modes: readonly { readonly omega: number; readonly damping: number }[];
  readonly pads: readonly {
    /** Times of its samples, seconds from when it was let go. */
    readonly times: readonly number[];
    /** Of each mode on this pad: displacement and speed over ω at time zero, N. */
    readonly amplitudes: readonly (readonly [number, number])[];
  }[];
  /** Standard deviation of a sample, N. */
  readonly noise: number;
}

/** What a sample depends on: its pad's settled load and amplitudes, then ω and ζ of each mode. */
export interface BoundRow {
  readonly load: readonly number[];
  readonly shared: readonly number[];
}

/**
 * Derivatives of one sample's load, in closed form: free responses of x″ + 2ζω·x′ + ω²·x = 0 to unit
 * displacement and unit speed over ω, and their derivatives by ω and ζ from the transition matrix
 * exp(ωt·[[0, 1], [−1, −2ζ]]), summed as its power series, scaled and squared, so that no case of the
 * damping is special and nothing is shared with the estimator's own functions.
 */
export const boundRow = (problem: BoundProblem, pad: number, t: number): BoundRow => {
  const { modes, pads } = problem;
  const amplitudes = pads[pad]?.amplitudes ?? [];
  const load = [1];
  const byOmega: number[] = [];
  const byDamping: number[] = [];
  modes.forEach(({ omega, damping }, mode) => {
    const [a = 0, b = 0] = amplitudes[mode] ?? [];
    const { row, byAngle, byZeta } = transition(omega * t, damping);
    load.push(row[0], row[1]);
    byOmega.push(t * (a * byAngle[0] + b * byAngle[1]));
    byDamping.push(a * byZeta[0] + b * byZeta[1]);
  });
  return { load, shared: [...byOmega, ...byDamping] };
};

type Matrix = readonly [number, number, number, number];
type Pair = readonly [number, number];

const times = (p: Matrix, q: Matrix): Matrix => [
  p[0] * q[0] + p[1] * q[2],
  p[0] * q[1] + p[1] * q[3],
  p[2] * q[0] + p[3] * q[2],
  p[2] * q[1] + p[3] * q[3],
];
const plus = (p: Matrix, q: Matrix): Matrix => [p[0] + q[0], p[1] + q[1], p[2] + q[2], p[3] + q[3]];
const scaled = (p: Matrix, by: number): Matrix => [p[0] * by, p[1] * by, p[2] * by, p[3] * by];

/** First row of E = exp(θM), M = [[0, 1], [−1, −2ζ]], with its derivatives by θ (E·M) and by ζ. */
const transition = (
  angle: number,
  zeta: number,
): { readonly row: Pair; readonly byAngle: Pair; readonly byZeta: Pair } => {
  const squarings = Math.max(0, Math.ceil(Math.log2(Math.max(1e-300, angle) * (1 + zeta))) + 3);
  const small = angle / 2 ** squarings;
  const m: Matrix = [0, small, -small, -2 * zeta * small];
  const dm: Matrix = [0, 0, 0, -2 * small];
  let power: Matrix = [1, 0, 0, 1];
  let dPower: Matrix = [0, 0, 0, 0];
  let e = power;
  let de = dPower;
  for (let k = 1; k <= 14; k += 1) {
    dPower = scaled(plus(times(dPower, m), times(power, dm)), 1 / k);
    power = scaled(times(power, m), 1 / k);
    e = plus(e, power);
    de = plus(de, dPower);
  }
  for (let k = 0; k < squarings; k += 1) {
    de = plus(times(de, e), times(e, de));
    e = times(e, e);
  }
  return {
    row: [e[0], e[1]],
    byAngle: [-e[1], e[0] - 2 * zeta * e[1]],
    byZeta: [de[0], de[1]],
  };
};

/**
 * The bounds for the pads' settled loads, N, in the pads' order; Infinity where the samples do not
 * determine them to double precision.
 */
export const cramerRao = (problem: BoundProblem): readonly number[] => {
  const { modes, pads, noise } = problem;
  const own = 1 + 2 * modes.length;
  const shared = 2 * modes.length;
  const size = own * pads.length + shared;
  const information = new Float64Array(size * size);
  pads.forEach((one, pad) => {
    const row = new Float64Array(size);
    for (const t of one.times) {
      const { load, shared: common } = boundRow(problem, pad, t);
      row.fill(0);
      row.set(load, own * pad);
      row.set(common, own * pads.length);
      for (let i = 0; i < size; i += 1)
        for (let j = 0; j <= i; j += 1)
          information[i * size + j] =
            (information[i * size + j] as number) + (row[i] as number) * (row[j] as number);
    }
  });
  // Scaled to a unit diagonal, so that what cannot be inverted is the problem and not its units.
  const scale = Float64Array.from({ length: size }, (_, i) =>
    Math.sqrt(information[i * (size + 1)] as number),
  );
  for (let i = 0; i < size; i += 1)
    for (let j = 0; j <= i; j += 1)
      information[i * size + j] =
        (information[i * size + j] as number) / ((scale[i] as number) * (scale[j] as number));
  if (!factor(information, size)) return pads.map(() => Infinity);
  const inverse = new Float64Array(size * size);
  invertFactored(information, size, inverse, new Float64Array(size));
  return pads.map((_, pad) => {
    const at = own * pad;
    return (noise * Math.sqrt(inverse[at * (size + 1)] as number)) / (scale[at] as number);
  });
};
