import { measured, type Measured } from '../measured.ts';
import { fTail } from '../statistics/fDistribution.ts';
import { linearModel } from '../statistics/linearModel.ts';

/** A zero at a time since the pad was switched on, seconds. */
export interface WarmUpPoint {
  readonly sinceOn: number;
  readonly value: number;
}

export type WarmUp =
  /** Too few points for a judgement. */
  | { readonly kind: 'cannot tell'; readonly pointsNeeded: number }
  /** No evidence against a flat zero; a change up to `couldHide` would not have been seen. */
  | {
      readonly kind: 'flat';
      readonly p: number;
      readonly level: Measured;
      readonly couldHide: number;
    }
  | {
      readonly kind: 'warming';
      /** Exponential approach, or a straight ramp that ends. */
      readonly model: 'exponential' | 'ramp';
      readonly p: number;
      /** Change from the first point to the end of the warm-up. */
      readonly change: Measured;
      /** Time constant, or time at which the ramp ends, s. */
      readonly time: number;
      /**
       * Seconds since switched on after which less than `limit` of the change is still to come; null
       * where that lies beyond the last point: then it was not watched for long enough.
       */
      readonly steadyAfter: number | null;
    };

/** Below this a fit of three parameters says nothing of its own scatter. */
const FEWEST = 6;
const BELIEVED = 0.05;
/** Trial times from the first interval to three times the length of the series. */
const TRIALS = 60;

type Shape = (t: number, time: number) => number;
/** What is still to come at time t, as a share of the whole from time zero. */
const SHAPES: Readonly<Record<'exponential' | 'ramp', Shape>> = {
  exponential: (t, time) => Math.exp(-t / time),
  ramp: (t, time) => Math.max(0, 1 - t / time),
};

/**
 * Whether a zero moves with the time since the pad was switched on: an exponential approach and a ramp
 * that ends are held against a flat line. The time of either is found over a grid, which costs a degree
 * of freedom more than the fit shows: F with two and n − 3. (Under a flat line that time means nothing,
 * so F is no exact law here; the share of false findings is checked by simulation in the tests.)
 *
 * `limit` is the smallest change that matters, in the unit of the values. Points must be independent
 * averages. Throws RangeError for a time that is below zero or not finite.
 */
export const warmUp = (points: readonly WarmUpPoint[], limit: number): WarmUp => {
  for (const { sinceOn, value } of points)
    if (!(sinceOn >= 0) || !Number.isFinite(sinceOn) || !Number.isFinite(value))
      throw new RangeError(`not a zero since switched on: ${value} at ${sinceOn} s`);
  const times = [...new Set(points.map(({ sinceOn }) => sinceOn))].sort((a, b) => a - b);
  const first = times[0] ?? 0;
  const last = times.at(-1) ?? 0;
  if (points.length < FEWEST || times.length < 4)
    return { kind: 'cannot tell', pointsNeeded: Math.max(1, FEWEST - points.length) };

  const values = points.map(({ value }) => value);
  const flat = linearModel(
    points.map(() => [1]),
    values,
  );
  if (!flat) return { kind: 'cannot tell', pointsNeeded: 1 };
  const level = measured(
    flat.coefficients[0] as number,
    flat.residualSd / Math.sqrt(points.length),
    flat.dof,
  );
  const shortest = Math.max((times[1] as number) - first, (last - first) / 1000);
  const best = bestShape(points, values, { shortest, longest: 3 * (last - first) });
  if (!best) return { kind: 'flat', p: 1, level, couldHide: 0 };
  const dof = points.length - 3;
  const f = (flat.squares - best.squares) / 2 / (best.squares / dof);
  const p = best.squares > 0 ? fTail(Math.max(0, f), 2, dof) : 0;
  if (p >= BELIEVED) {
    return { kind: 'flat', p, level, couldHide: couldHide(points, values, last - first) };
  }

  const shape = SHAPES[best.model];
  const atFirst = shape(first, best.time);
  const change = changeOf(points, values, best);
  const size = Math.abs(change.value) / atFirst;
  const share = size > 0 ? Math.min(1, limit / size) : 1;
  const steady =
    share >= atFirst
      ? first
      : best.model === 'exponential'
        ? -best.time * Math.log(share)
        : best.time * (1 - share);
  return {
    kind: 'warming',
    model: best.model,
    p,
    change,
    time: best.time,
    steadyAfter: steady <= last ? steady : null,
  };
};

/**
 * Five standard uncertainties of a change that dies away over a third of the time watched: with ten
 * points or more nine in ten of that size are seen (by simulation, see the tests).
 */
const couldHide = (
  points: readonly WarmUpPoint[],
  values: readonly number[],
  watched: number,
): number => {
  const first = Math.min(...points.map(({ sinceOn }) => sinceOn));
  const fit = linearModel(
    points.map(({ sinceOn }) => [1, Math.exp((3 * (first - sinceOn)) / watched)]),
    values,
  );
  return fit ? 5 * Math.sqrt(Math.max(0, fit.covariance[1]?.[1] ?? NaN)) : 0;
};

interface Best {
  readonly model: 'exponential' | 'ramp';
  readonly time: number;
  readonly squares: number;
  /** Size of the shape at time zero: the level is approached from there. */
  readonly size: number;
}

const bestShape = (
  points: readonly WarmUpPoint[],
  values: readonly number[],
  { shortest, longest }: { readonly shortest: number; readonly longest: number },
): Best | null => {
  let best: Best | null = null;
  for (const model of ['exponential', 'ramp'] as const)
    for (let trial = 0; trial <= TRIALS; trial += 1) {
      const time = shortest * (longest / shortest) ** (trial / TRIALS);
      const fit = linearModel(
        points.map(({ sinceOn }) => [1, SHAPES[model](sinceOn, time)]),
        values,
      );
      if (fit && (!best || fit.squares < best.squares))
        best = { model, time, squares: fit.squares, size: fit.coefficients[1] as number };
    }
  return best;
};

/** The change from the first point on, its uncertainty with that of the time constant in it. */
const changeOf = (
  points: readonly WarmUpPoint[],
  values: readonly number[],
  { model, time, size }: Best,
): Measured => {
  const shape = SHAPES[model];
  const first = Math.min(...points.map(({ sinceOn }) => sinceOn));
  const nudge = 1e-4 * time;
  const byTime = (t: number): number =>
    (size * (shape(t, time + nudge) - shape(t, time - nudge))) / (2 * nudge);
  const fit =
    linearModel(
      points.map(({ sinceOn }) => [1, shape(sinceOn, time), byTime(sinceOn)]),
      values,
    ) ??
    linearModel(
      points.map(({ sinceOn }) => [1, shape(sinceOn, time)]),
      values,
    );
  const atFirst = shape(first, time);
  const value = -size * atFirst;
  if (!fit) return measured(value, Math.abs(value), 1);
  const gradient = [0, atFirst, byTime(first)].slice(0, fit.coefficients.length);
  let variance = 0;
  for (const [i, gi] of gradient.entries())
    for (const [j, gj] of gradient.entries()) variance += gi * gj * (fit.covariance[i]?.[j] ?? NaN);
  return measured(value, Math.sqrt(Math.max(0, variance)), fit.dof);
};
