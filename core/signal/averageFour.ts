import { perCorner, type PerCorner } from '../corners.ts';
import { average, keepGood, type Average, type Stretch } from './average.ts';
import { correlationLags } from './correlationLags.ts';
import { effectiveDof, type Part } from '../uncertainty/combine.ts';
import { longRunCovariance, windowDof, windowWidth } from './longRunCovariance.ts';

/** The four corners averaged over one window, together. */
export interface FourAverage {
  readonly corners: PerCorner<Average>;
  /** Of it, what noise alone makes of the mean load over the window; the drift is left out. */
  readonly noise: PerCorner<Part>;
  /** Covariance of the four means, row by row in the order LF, RF, LR, RR; positive semidefinite. */
  readonly covariance: readonly number[];
}

/** Degree of the path that a load may take within the window without being noise, and points for it. */
const PATH = 3;
const POINTS_FOR_PATH = 40;
/** Standard errors up to which a drift is taken for noise. */
const BY_CHANCE = 2;

/**
 * Means of four streams over the same window with the covariance of the means, so that what moves
 * load from corner to corner (a rocking car) cancels in the total as it does in truth.
 *
 * The streams are put on one grid by linear interpolation. Two things make a mean uncertain. Noise:
 * the long-run covariance of what is left about a smooth path (a cubic, where there are points for it),
 * over the lags that the corner with the longest memory needs (`longRunCovariance`); each of the path's
 * coefficients takes away as much as the mean does. And the drift, as far as it stands out of the noise:
 * the load has gone evenly through a range, and is nowhere in it rather than elsewhere (rectangular,
 * JCGM 100:2008, 4.3.7); what moves from corner to corner moves together. A corner's `u` is the square
 * root of its diagonal.
 *
 * Null where a corner has fewer than two good samples or the four have fewer than two grid points in
 * common.
 */
export const averageFour = (streams: PerCorner<Stretch>): FourAverage | null => {
  const { LF, RF, LR, RR } = perCorner((corner) => average(streams[corner]));
  if (!LF || !RF || !LR || !RR) return null;
  const alone = [LF, RF, LR, RR] as const;
  const residuals = onOneGrid(streams);
  if (!residuals) return null;
  const n = residuals[0].length;
  const degree = n < POINTS_FOR_PATH ? 0 : PATH;
  const drifts = residuals.map((row) => takeOutPath(row, degree));
  const lags = Math.max(...residuals.map((row) => correlationLags(row, n)));
  const width = windowWidth(lags, n);
  const share = Math.min(1 / (degree + 2), width / n);
  const madeWhole = (1 - share) / (1 - (degree + 1) * share);
  const noise = longRunCovariance(residuals, width).map((entry) => entry * madeWhole);
  // A slope's standard error over the whole window, times its length, is √12 of the mean's.
  const spreads = drifts.map((drift, index) => {
    const byChance = BY_CHANCE ** 2 * 12 * (noise[5 * index] as number);
    return (Math.sign(drift) * Math.sqrt(Math.max(0, drift ** 2 - byChance))) / Math.sqrt(12);
  });
  const covariance = noise.map(
    (entry, index) => entry + (spreads[index >> 2] as number) * (spreads[index & 3] as number),
  );
  const byNoise = perCorner((_, index): Part => ({
    u: Math.sqrt(noise[5 * index] as number),
    dof: windowDof(width, n),
  }));
  return {
    noise: byNoise,
    corners: perCorner((corner, index) => {
      const average = alone[index] as Average;
      const variance = covariance[5 * index] as number;
      const independent = (average.sd * average.sd) / average.samples;
      const drift = { u: Math.abs(spreads[index] as number), dof: Infinity };
      return {
        ...average,
        u: Math.sqrt(variance),
        dof: effectiveDof([byNoise[corner], drift]),
        effectiveSamples:
          variance > independent ? (average.samples * independent) / variance : average.samples,
      };
    }),
    covariance,
  };
};

/**
 * Takes the polynomial of a degree out of evenly spaced residuals whose mean is zero, in place, by
 * discrete orthogonal polynomials (three-term recurrence: G. E. Forsythe, J. SIAM 5 (1957) 74). Returns
 * how far the straight part goes over the row's length.
 */
const takeOutPath = (row: Float64Array, degree: number): number => {
  const n = row.length;
  let before = new Float64Array(n);
  let power = new Float64Array(n).fill(1);
  let squaresBefore = 1;
  let squares = n;
  let drift = 0;
  for (let k = 1; k <= degree; k += 1) {
    const next = new Float64Array(n);
    const back = k === 1 ? 0 : squares / squaresBefore;
    let nextSquares = 0;
    let product = 0;
    for (let i = 0; i < n; i += 1) {
      const x = (2 * i + 1) / n - 1;
      const value = x * (power[i] as number) - back * (before[i] as number);
      next[i] = value;
      nextSquares += value * value;
      product += value * (row[i] as number);
    }
    const coefficient = product / nextSquares;
    for (let i = 0; i < n; i += 1) row[i] = (row[i] as number) - coefficient * (next[i] as number);
    if (k === 1) drift = 2 * coefficient;
    before = power;
    power = next;
    squaresBefore = squares;
    squares = nextSquares;
  }
  return drift;
};

type Rows = readonly [Float64Array, Float64Array, Float64Array, Float64Array];

/** Residuals about their means of the four streams at common, evenly spaced times. */
const onOneGrid = (streams: PerCorner<Stretch>): Rows | null => {
  const kept = perCorner((corner) => keepGood(streams[corner]));
  const four = [kept.LF, kept.RF, kept.LR, kept.RR];
  const from = Math.max(...four.map(({ t }) => t[0] as number));
  const to = Math.min(...four.map(({ t }) => t[t.length - 1] as number));
  const points = Math.min(...four.map(({ t }) => t.length));
  if (!(to > from) || points < 2) return null;
  const step = (to - from) / (points - 1);
  const row = (index: number): Float64Array => {
    const { t, x } = four[index] as { readonly t: Float64Array; readonly x: Float64Array };
    const out = new Float64Array(points);
    let at = 0;
    let sum = 0;
    for (let i = 0; i < points; i += 1) {
      const time = Math.min(to, from + i * step);
      while (at < t.length - 2 && (t[at + 1] as number) < time) at += 1;
      const left = t[at] as number;
      const right = t[at + 1] as number;
      const share = right > left ? (time - left) / (right - left) : 0;
      const base = x[at] as number;
      out[i] = base - (x[0] as number) + share * ((x[at + 1] as number) - base);
      sum += out[i] as number;
    }
    const mean = sum / points;
    return out.map((value) => value - mean);
  };
  return [row(0), row(1), row(2), row(3)];
};
