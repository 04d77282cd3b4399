import { inOrder, perCorner, type PerCorner } from '../corners.ts';
import { factor } from '../signal/early/cholesky.ts';
import { frictionAsSeats } from './friction.ts';
import { riseShares, type HeightPoint } from './heightPoint.ts';
import type { AdjustReading } from './reading.ts';
import { seatEffects, type TurnResponse } from './turnResponse.ts';

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

/** One reading as the fit sees it. */
export interface ObservedReading {
  /** Which of the state's values were read: 0 to 3 the loads, then the heights that count. */
  readonly rows: readonly number[];
  readonly values: readonly number[];
  /** Cholesky factor of their noise: the pads' own, the heights' own, and friction held. */
  readonly noise: Float64Array;
  readonly logDetNoise: number;
  /** Turns at each adjuster since the first reading. */
  readonly turns: readonly number[];
}

/** A history made ready: its state is four loads (N) and the heights that were ever measured (m). */
export interface ObservedHistory {
  /** Index in the history's points of each height in the state. */
  readonly points: readonly number[];
  /** From loads and rises over the wheels, eight numbers, to the state. */
  readonly toState: (eight: readonly number[]) => readonly number[];
  readonly readings: readonly ObservedReading[];
}

/**
 * Makes a history ready to be fitted. Friction's effect is taken at the rates known before: it is
 * itself known to a few tens of percent. `alsoHeld` is force that each strut may hold at a reading
 * besides, as a standard deviation in newton. Null where there is no reading or one's noise is no
 * covariance.
 */
export const observe = (
  prior: TurnResponse,
  history: AdjustHistory,
  alsoHeld: (index: number) => PerCorner<number> | null,
): ObservedHistory | null => {
  const { car } = prior.standing;
  const points = history.points.flatMap((_, index) =>
    history.readings.some(({ reading }) => reading.heights[index]) ? [index] : [],
  );
  const shares = history.points.map((point) => riseShares(car, point));
  const toState = (eight: readonly number[]): readonly number[] => [
    ...eight.slice(0, 4),
    ...points.map((index) =>
      (shares[index] ?? []).reduce((sum, s, i) => sum + s * (eight[4 + i] as number), 0),
    ),
  ];
  const perSeat = seatEffects(prior, prior.logFactors).map(toState);
  const rates = perCorner(
    (corner, i) => car.wheelRates[corner] * Math.exp(prior.logFactors[4 + i] as number),
  );
  const readings: ObservedReading[] = [];
  let turns: readonly number[] = [0, 0, 0, 0];
  for (const [index, { turns: since, reading }] of history.readings.entries()) {
    const more = inOrder(alsoHeld(index) ?? { LF: 0, RF: 0, LR: 0, RR: 0 });
    const held = frictionAsSeats(history.friction, rates, reading.settled).map((seat, i) =>
      Math.hypot(seat, (more[i] as number) / (inOrder(rates)[i] as number)),
    );
    const heights = points.map((at) => reading.heights[at] ?? null);
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
    if (!factor(noise, rows.length)) return null;
    let logDetNoise = 0;
    for (let i = 0; i < rows.length; i += 1)
      logDetNoise += 2 * Math.log(noise[i * (rows.length + 1)] as number);
    if (index > 0) turns = inOrder(since).map((each, i) => each + (turns[i] as number));
    const values = rows.map((row) =>
      row < 4 ? (reading.loads.values[row] as number) : (heights[row - 4]?.value ?? 0),
    );
    readings.push({ rows, values, noise, logDetNoise, turns });
  }
  return readings.length > 0 ? { points, toState, readings } : null;
};
