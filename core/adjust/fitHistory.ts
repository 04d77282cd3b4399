import { inOrder, perCorner, type PerCorner } from '../corners.ts';
import { measured, type Measured } from '../measured.ts';
import { factor, invertFactored, solveFactored } from '../signal/early/cholesky.ts';
import { frictionAsSeats } from './friction.ts';
import { riseShares, type HeightPoint } from './heightPoint.ts';
import type { AdjustReading } from './reading.ts';
import {
  changeBy,
  effectsAndSlopes,
  FACTORS,
  seatPerTurnWith,
  type TurnResponse,
} from './turnResponse.ts';

/** A settled reading and the turns made at each adjuster since the one before; zero at the first. */
export interface TurnedReading {
  readonly turns: PerCorner<number>;
  readonly reading: AdjustReading;
}

/** Readings of one car between which nothing but adjusters was moved. */
export interface AdjustHistory {
  /** To which the heights of every reading belong. */
  readonly points: readonly HeightPoint[];
  /** Friction of each strut at the wheel, newton; 0 is none. */
  readonly friction: PerCorner<number>;
  readonly readings: readonly TurnedReading[];
}

/** The most probable factors and present state, given a history and what was known before. */
export interface HistoryFit {
  readonly logFactors: readonly number[];
  readonly covariance: readonly number[];
  /** Twice the negative logarithm of the posterior, constants left out: squares of all misfits. */
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
const ENOUGH = 1e-9;

/** Lower triangle of a covariance factored, or null; and twice half the log of its determinant. */
const factored = (
  matrix: Float64Array,
  size: number,
): { readonly l: Float64Array; readonly logDet: number } | null => {
  const l = Float64Array.from(matrix);
  if (!factor(l, size)) return null;
  let logDet = 0;
  for (let i = 0; i < size; i += 1) logDet += 2 * Math.log(l[i * (size + 1)] as number);
  return { l, logDet };
};

/**
 * Fits all readings of a history at once by Gauss-Newton: each is the first state plus what the
 * turns since then did, plus friction held in the struts and the readings' own noise; the factors
 * have the response's mean and covariance as their prior, the first state none. With the factors'
 * small non-linearity the result is the posterior's mode with the covariance of its Gaussian there
 * (Laplace). Loads alone are enough; a point whose height was never measured takes no part.
 *
 * `alsoHeld` is force that each strut may hold at a reading besides its friction, as a standard
 * deviation in newton: for asking what if a damper stuck there.
 * Null where the readings cannot be fitted: a covariance that is none, a car that would not stand.
 */
export const fitHistory = (
  prior: TurnResponse,
  history: AdjustHistory,
  alsoHeld: (index: number) => PerCorner<number> | null = () => null,
): HistoryFit | null => {
  const { car } = prior.standing;
  const measuredPoints = history.points.flatMap((point, index) =>
    history.readings.some(({ reading }) => reading.heights[index]) ? [{ point, index }] : [],
  );
  const shares = measuredPoints.map(({ point }) => riseShares(car, point));
  const states = 4 + shares.length;
  const unknowns = FACTORS + states;
  /** From loads and rises over the wheels to loads and heights at the points. */
  const toState = (eight: readonly number[]): number[] => [
    ...eight.slice(0, 4),
    ...shares.map((row) => row.reduce((sum, s, i) => sum + s * (eight[4 + i] as number), 0)),
  ];

  const priorCovariance = factored(Float64Array.from(prior.covariance), FACTORS);
  if (!priorCovariance) return null;
  const priorInformation = new Float64Array(FACTORS * FACTORS);
  invertFactored(priorCovariance.l, FACTORS, priorInformation, new Float64Array(FACTORS));

  // Friction's effect is taken at the prior's rates: it is itself known to a few tens of percent.
  const before = effectsAndSlopes(prior, prior.logFactors);
  const perSeat = before.effects.map(toState);
  const rates = perCorner(
    (corner, i) => car.wheelRates[corner] * Math.exp(prior.logFactors[4 + i] as number),
  );
  let logDetNoise = 0;
  const seen = history.readings.map(({ reading }, index) => {
    const more = alsoHeld(index);
    const held = frictionAsSeats(history.friction, rates, reading.settled).map((seat, i) =>
      more ? Math.hypot(seat, inOrder(more)[i]! / inOrder(rates)[i]!) : seat,
    );
    const heights = measuredPoints.map(({ index: at }) => reading.heights[at] ?? null);
    const rows = [0, 1, 2, 3, ...heights.flatMap((height, i) => (height ? [4 + i] : []))];
    const noise = new Float64Array(rows.length ** 2);
    rows.forEach((row, a) => {
      rows.forEach((column, b) => {
        let sum = held.reduce(
          (s, sd, j) =>
            s + sd * sd * (perSeat[j]?.[row] as number) * (perSeat[j]?.[column] as number),
          0,
        );
        if (row < 4 && column < 4) sum += reading.loads.covariance[row * 4 + column] as number;
        else if (row === column) sum += (heights[row - 4]?.u ?? 0) ** 2;
        noise[a * rows.length + b] = sum;
      });
    });
    const solved = factored(noise, rows.length);
    logDetNoise += solved?.logDet ?? 0;
    const values = rows.map((row) =>
      row < 4 ? (reading.loads.values[row] as number) : (heights[row - 4]?.value ?? 0),
    );
    return { rows, values, l: solved?.l ?? null };
  });
  if (seen.length === 0 || seen.some(({ l }) => l === null)) return null;

  const totals: number[][] = [];
  history.readings.forEach(({ turns }, index) => {
    const since = totals[index - 1] ?? [0, 0, 0, 0];
    totals.push(inOrder(turns).map((each, i) => each * (index === 0 ? 0 : 1) + (since[i] ?? 0)));
  });

  let theta = [...prior.logFactors];
  let start = Array.from({ length: states }, (_, row) => {
    for (const { rows, values } of seen) {
      const at = rows.indexOf(row);
      if (at >= 0) return values[at] as number;
    }
    return 0;
  });
  const information = new Float64Array(unknowns * unknowns);
  const slope = new Float64Array(unknowns);
  /** Misfits at (theta, start), and the normal equations there. */
  const linearise = (): number => {
    information.fill(0);
    slope.fill(0);
    const effects = effectsAndSlopes(prior, theta);
    const perTurn = seatPerTurnWith(prior, theta);
    let squares = 0;
    for (let a = 0; a < FACTORS; a += 1)
      for (let b = 0; b < FACTORS; b += 1) {
        const p = priorInformation[a * FACTORS + b] as number;
        const off = (theta[b] as number) - (prior.logFactors[b] as number);
        information[a * unknowns + b] = p;
        slope[a] = (slope[a] as number) - p * off;
        squares += ((theta[a] as number) - (prior.logFactors[a] as number)) * p * off;
      }
    seen.forEach(({ rows, values, l }, index) => {
      const { change, slopes } = changeBy(effects, perTurn, totals[index] as number[]);
      const moved = toState(change);
      const byFactor = slopes.map(toState);
      const misfit = rows.map(
        (row, i) => (values[i] as number) - (start[row] as number) - (moved[row] as number),
      );
      const whitened = Float64Array.from(misfit);
      solveFactored(l as Float64Array, rows.length, whitened);
      squares += misfit.reduce((sum, each, i) => sum + each * (whitened[i] as number), 0);
      /** Columns of the Jacobian: factors, then the states seen. */
      const columns = Array.from({ length: unknowns }, (_, u) =>
        u < FACTORS
          ? rows.map((row) => byFactor[u]?.[row] as number)
          : rows.map((row) => (row === u - FACTORS ? 1 : 0)),
      );
      columns.forEach((column, a) => {
        slope[a] = (slope[a] as number) + column.reduce((s, c, i) => s + c * (whitened[i] ?? 0), 0);
        const weighed = Float64Array.from(column);
        solveFactored(l as Float64Array, rows.length, weighed);
        columns.forEach((other, b) => {
          information[a * unknowns + b] =
            (information[a * unknowns + b] as number) +
            other.reduce((s, c, i) => s + c * (weighed[i] as number), 0);
        });
      });
    });
    return squares;
  };

  let squares = Infinity;
  try {
    squares = linearise();
    for (let round = 0; round < MOST_ROUNDS; round += 1) {
      const solved = factored(information, unknowns);
      if (!solved) return null;
      const step = Float64Array.from(slope);
      solveFactored(solved.l, unknowns, step);
      const [theta0, start0, squares0] = [theta, start, squares];
      // Halved until it helps: a step from far away may overshoot.
      let by = 1;
      do {
        theta = theta0.map((value, i) => value + by * (step[i] as number));
        start = start0.map((value, i) => value + by * (step[FACTORS + i] as number));
        squares = linearise();
        by /= 2;
      } while (!(squares <= squares0 * (1 + 1e-12) + 1e-12) && by > 1e-3);
      if (Math.abs(squares0 - squares) <= ENOUGH * (1 + squares)) break;
    }
  } catch {
    return null;
  }
  const solved = factored(information, unknowns);
  if (!solved) return null;
  const inverse = new Float64Array(unknowns * unknowns);
  invertFactored(solved.l, unknowns, inverse, new Float64Array(unknowns));
  const covariance = Array.from(
    { length: FACTORS * FACTORS },
    (_, i) => inverse[Math.floor(i / FACTORS) * unknowns + (i % FACTORS)] as number,
  );
  const { change, slopes } = changeBy(
    effectsAndSlopes(prior, theta),
    seatPerTurnWith(prior, theta),
    totals.at(-1) as number[],
  );
  const moved = toState(change);
  const byFactor = slopes.map(toState);
  const heights = history.points.map((_, index) => {
    const at = measuredPoints.findIndex((each) => each.index === index);
    if (at < 0) return null;
    const row = 4 + at;
    const by = Array.from({ length: unknowns }, (_unused, i) =>
      i < FACTORS ? (byFactor[i]?.[row] as number) : i === FACTORS + row ? 1 : 0,
    );
    const variance = by.reduce(
      (sum, a, i) =>
        sum + by.reduce((s, b, k) => s + a * b * (inverse[i * unknowns + k] as number), 0),
      0,
    );
    const value = (start[row] as number) + (moved[row] as number);
    return measured(value, Math.sqrt(Math.max(0, variance)), Infinity);
  });
  return {
    logFactors: theta,
    covariance,
    squares,
    logEvidence: -0.5 * (squares + solved.logDet + priorCovariance.logDet + logDetNoise),
    newestCount: seen.at(-1)?.rows.length ?? 0,
    heights,
  };
};
