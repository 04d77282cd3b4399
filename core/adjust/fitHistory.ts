import type { PerCorner } from '../corners.ts';
import { measured, type Measured } from '../measured.ts';
import { factor, invertFactored, solveFactored } from '../signal/early/cholesky.ts';
import { observe, type AdjustHistory } from './adjustHistory.ts';
import {
  changeBy,
  effectsAndSlopes,
  FACTORS,
  seatPerTurnWith,
  type TurnResponse,
} from './turnResponse.ts';

/** The most probable factors and present heights, given a history and what was known before. */
export interface HistoryFit {
  readonly logFactors: readonly number[];
  readonly covariance: readonly number[];
  /** Squares of all misfits in their uncertainties, those of the factors from their prior too. */
  readonly squares: number;
  /** Logarithm of the evidence (Laplace), constants left out that only the readings decide. */
  readonly logEvidence: number;
  /** Values that were observed in the newest reading. */
  readonly newestCount: number;
  /**
   * Ride heights now, by all readings together, metre; null where a point was never measured. The
   * friction held at the newest reading is not in them.
   */
  readonly heights: readonly (Measured | null)[];
}

const MOST_ROUNDS = 25;
const MOST_HALVINGS = 10;
const ENOUGH = 1e-6;

const dot = (a: ArrayLike<number>, b: ArrayLike<number>): number => {
  let sum = 0;
  for (let i = 0; i < a.length; i += 1) sum += (a[i] as number) * (b[i] as number);
  return sum;
};

/** A symmetric matrix factored, with the logarithm of its determinant; null where not positive. */
const factored = (
  matrix: ArrayLike<number>,
  size: number,
): { readonly l: Float64Array; readonly logDet: number } | null => {
  const l = Float64Array.from(matrix);
  if (!factor(l, size)) return null;
  let logDet = 0;
  for (let i = 0; i < size; i += 1) logDet += 2 * Math.log(l[i * (size + 1)] as number);
  return { l, logDet };
};

const solved = (l: Float64Array, right: ArrayLike<number>): Float64Array => {
  const x = Float64Array.from(right);
  solveFactored(l, x.length, x);
  return x;
};

/**
 * Fits all readings of a history at once by Gauss-Newton: each is the first state plus what the
 * turns since then did, plus friction held in the struts and the readings' own noise; the factors
 * have the response's mean and covariance as their prior, the first state none. The result is the
 * posterior's mode with the covariance of its Gaussian there (Laplace). Loads alone are enough; a
 * point whose height was never measured takes no part.
 *
 * `alsoHeld` is force that each strut may hold at a reading besides its friction, as a standard
 * deviation in newton: for asking what if a damper stuck there.
 * Null where the readings cannot be fitted: noise that is no covariance, a car that would not stand.
 */
export const fitHistory = (
  prior: TurnResponse,
  history: AdjustHistory,
  alsoHeld: (index: number) => PerCorner<number> | null = () => null,
): HistoryFit | null => {
  const observed = observe(prior, history, alsoHeld);
  const known = factored(prior.covariance, FACTORS);
  if (!observed || !known) return null;
  const { readings, toState } = observed;
  const states = 4 + observed.points.length;
  const unknowns = FACTORS + states;
  const priorInformation = new Float64Array(FACTORS * FACTORS);
  invertFactored(known.l, FACTORS, priorInformation, new Float64Array(FACTORS));

  /** Factors, then the first state. */
  let at = Float64Array.from([
    ...prior.logFactors,
    ...Array.from({ length: states }, (_, row) => {
      const first = readings.find(({ rows }) => rows.includes(row));
      return first?.values[first.rows.indexOf(row)] ?? 0;
    }),
  ]);
  const information = new Float64Array(unknowns * unknowns);
  const slope = new Float64Array(unknowns);
  const add = (index: number, to: Float64Array, value: number): void => {
    to[index] = (to[index] as number) + value;
  };

  /** Squares of the misfits at `at`, and the normal equations there. */
  const linearise = (): number => {
    information.fill(0);
    slope.fill(0);
    const factors = [...at.subarray(0, FACTORS)];
    const off = factors.map((value, i) => value - (prior.logFactors[i] as number));
    let squares = 0;
    for (let a = 0; a < FACTORS; a += 1) {
      const row = priorInformation.subarray(a * FACTORS, (a + 1) * FACTORS);
      information.set(row, a * unknowns);
      const pull = dot(off, row);
      slope[a] = -pull;
      squares += (off[a] as number) * pull;
    }
    const effects = effectsAndSlopes(prior, factors);
    const perTurn = seatPerTurnWith(prior, factors);
    for (const { rows, values, noise, turns } of readings) {
      const { change, slopes } = changeBy(effects, perTurn, turns);
      const moved = toState(change);
      const misfit = rows.map(
        (row, i) => (values[i] as number) - (at[FACTORS + row] as number) - (moved[row] as number),
      );
      const weighed = solved(noise, misfit);
      squares += dot(misfit, weighed);
      const columns = [
        ...slopes.map((each) => {
          const state = toState(each);
          return rows.map((row) => state[row] as number);
        }),
        ...Array.from({ length: states }, (_, s) => rows.map((row) => (row === s ? 1 : 0))),
      ];
      columns.forEach((column, a) => {
        add(a, slope, dot(column, weighed));
        const other = solved(noise, column);
        columns.forEach((each, b) => add(a * unknowns + b, information, dot(each, other)));
      });
    }
    return squares;
  };

  let squares: number;
  try {
    squares = linearise();
    for (let round = 0; round < MOST_ROUNDS; round += 1) {
      const normal = factored(information, unknowns);
      if (!normal) return null;
      const step = solved(normal.l, slope);
      const [from, before] = [at, squares];
      // Halved until it helps: a step from far away may overshoot.
      for (let halvings = 0; halvings < MOST_HALVINGS; halvings += 1) {
        at = from.map((value, i) => value + 2 ** -halvings * (step[i] as number));
        squares = linearise();
        if (squares <= before + ENOUGH * (1 + before)) break;
      }
      if (Math.abs(before - squares) <= ENOUGH * (1 + squares)) break;
    }
  } catch {
    return null;
  }
  const normal = factored(information, unknowns);
  if (!normal) return null;
  const inverse = new Float64Array(unknowns * unknowns);
  invertFactored(normal.l, unknowns, inverse, new Float64Array(unknowns));

  const logFactors = [...at.subarray(0, FACTORS)];
  const { change, slopes } = changeBy(
    effectsAndSlopes(prior, logFactors),
    seatPerTurnWith(prior, logFactors),
    readings.at(-1)?.turns ?? [0, 0, 0, 0],
  );
  const moved = toState(change);
  const byFactor = slopes.map(toState);
  const heightNow = (row: number): Measured => {
    const by = Array.from({ length: unknowns }, (_, i) =>
      i < FACTORS ? (byFactor[i]?.[row] as number) : i === FACTORS + row ? 1 : 0,
    );
    const variance = by.reduce(
      (sum, a, i) => sum + a * dot(by, inverse.subarray(i * unknowns, (i + 1) * unknowns)),
      0,
    );
    const value = (at[FACTORS + row] as number) + (moved[row] as number);
    return measured(value, Math.sqrt(Math.max(0, variance)), Infinity);
  };
  const logDetNoise = readings.reduce((sum, reading) => sum + reading.logDetNoise, 0);
  return {
    logFactors,
    covariance: Array.from(
      { length: FACTORS * FACTORS },
      (_, i) => inverse[Math.floor(i / FACTORS) * unknowns + (i % FACTORS)] as number,
    ),
    squares,
    logEvidence: -0.5 * (squares + normal.logDet + known.logDet + logDetNoise),
    newestCount: readings.at(-1)?.rows.length ?? 0,
    heights: history.points.map((_, index) => {
      const row = observed.points.indexOf(index);
      return row < 0 ? null : heightNow(4 + row);
    }),
  };
};
