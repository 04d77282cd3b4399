import { perCorner, type PerCorner } from '../corners.ts';
import { average, keepGood, type Average, type Stretch } from './average.ts';
import { correlationLags } from './correlationLags.ts';
import { longRunCovariance, windowDof, windowWidth } from './longRunCovariance.ts';

/** The four corners averaged over one window, together. */
export interface FourAverage {
  readonly corners: PerCorner<Average>;
  /** Covariance of the four means, row by row in the order LF, RF, LR, RR; positive semidefinite. */
  readonly covariance: readonly number[];
}

/**
 * Means of four streams over the same window with the covariance of the means, so that what moves
 * load from corner to corner (a rocking car) cancels in the total as it does in truth.
 *
 * The streams are put on one grid by linear interpolation, and the long-run covariance is taken over
 * the lags that the corner with the longest memory needs (`longRunCovariance`). A corner's `u` is the
 * square root of its diagonal.
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
  const lags = Math.max(...residuals.map((row) => correlationLags(row, n)));
  const width = windowWidth(lags, n);
  const covariance = longRunCovariance(residuals, width);
  return {
    corners: perCorner((_, index) => {
      const corner = alone[index] as Average;
      const variance = covariance[5 * index] as number;
      const independent = (corner.sd * corner.sd) / corner.samples;
      return {
        ...corner,
        u: Math.sqrt(variance),
        dof: windowDof(width, n),
        effectiveSamples:
          variance > independent ? (corner.samples * independent) / variance : corner.samples,
      };
    }),
    covariance,
  };
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
