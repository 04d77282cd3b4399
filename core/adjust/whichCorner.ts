import { CORNERS, perCorner, type Corner, type PerCorner } from '../corners.ts';
import type { Measured } from '../measured.ts';
import { factor, solveFactored } from '../signal/early/cholesky.ts';
import { frictionAsSeats } from './friction.ts';
import { riseShares, type HeightPoint } from './heightPoint.ts';
import { effectsAndSlopes, predictChange, type TurnResponse } from './turnResponse.ts';

/**
 * Which corner was turned. The four turns of one sense load the pads alike within a few percent, but
 * the body rises most where the seat went up, so ride heights tell them apart.
 */
export interface CornerTold {
  /** Chance of each corner, all held equally likely before; null while no height was measured. */
  readonly chances: PerCorner<number> | null;
  /** Turns that would make the warp seen, up positive; null where a corner has no adjuster. */
  readonly turns: PerCorner<number | null>;
  /**
   * The most that a ride height would be elsewhere had another corner been turned, over its
   * tolerance, and at which point: above one it matters which corner it was.
   */
  readonly stake: number;
  /** Index of the height to measure: where the called corner and its rivals are farthest apart. */
  readonly measure: number;
}

/** Tells corners apart after a call was made, from the warp seen and ride heights. */
export const whichCorner = (input: {
  readonly response: TurnResponse;
  readonly called: Corner;
  /** Warp seen, newton at the left front (`warpWeights`). */
  readonly warp: number;
  readonly points: readonly HeightPoint[];
  /** How far each point may be off, metre. */
  readonly tolerances: readonly number[];
  /** Rise of each point since before the call, metre; null where not measured both times. */
  readonly rises: readonly (Measured | null)[];
  /** Friction of each strut at the wheel, newton. */
  readonly friction: PerCorner<number>;
}): CornerTold => {
  const { response, called, points, rises } = input;
  const { car } = response.standing;
  const effects = effectsAndSlopes(response, response.logFactors);
  const shares = points.map((point) => riseShares(car, point));
  const none: PerCorner<number> = { LF: 0, RF: 0, LR: 0, RR: 0 };
  const rates = perCorner(
    (corner, i) => car.wheelRates[corner] * Math.exp(response.logFactors[4 + i] as number),
  );
  const held = frictionAsSeats(input.friction, rates, 'bounced');

  const turns = perCorner((corner) => {
    const warp = predictChange(response, { ...none, [corner]: 1 }, effects).change[0] as number;
    return response.sheetSeatPerTurn[corner] === null || warp === 0 ? null : input.warp / warp;
  });
  const predicted = perCorner((corner) => {
    const by = turns[corner];
    return by === null ? null : predictChange(response, { ...none, [corner]: by }, effects);
  });
  const riseAt = (change: readonly number[], point: number): number =>
    (shares[point] ?? []).reduce((sum, s, i) => sum + s * (change[4 + i] as number), 0);

  let stake = 0;
  let measure = 0;
  let farthest = 0;
  const own = predicted[called];
  points.forEach((_, point) => {
    let nearest = Infinity;
    for (const corner of CORNERS) {
      const other = predicted[corner];
      if (corner === called || !own || !other) continue;
      const apart = Math.abs(riseAt(other.change, point) - riseAt(own.change, point));
      stake = Math.max(stake, apart / (input.tolerances[point] ?? Infinity));
      nearest = Math.min(nearest, apart);
    }
    if (nearest < Infinity && nearest > farthest) {
      farthest = nearest;
      measure = point;
    }
  });

  const seen = rises.flatMap((rise, index) => (rise ? [{ rise, index }] : []));
  if (seen.length === 0) return { chances: null, turns, stake, measure };
  const logs = perCorner((corner) => {
    const candidate = predicted[corner];
    if (!candidate) return -Infinity;
    const size = seen.length;
    const noise = new Float64Array(size * size);
    seen.forEach(({ rise, index }, a) => {
      seen.forEach(({ index: other }, b) => {
        let sum = a === b ? rise.u ** 2 : 0;
        for (let i = 0; i < 4; i += 1) {
          for (let k = 0; k < 4; k += 1)
            sum +=
              (shares[index]?.[i] as number) *
              (shares[other]?.[k] as number) *
              (candidate.covariance[(4 + i) * 8 + 4 + k] as number);
          const column = effects.effects[i] as readonly number[];
          // Held before and after, each by itself.
          sum += 2 * (held[i] as number) ** 2 * riseAt(column, index) * riseAt(column, other);
        }
        noise[a * size + b] = sum;
      });
    });
    if (!factor(noise, size)) return -Infinity;
    const misfit = Float64Array.from(
      seen.map(({ rise, index }) => rise.value - riseAt(candidate.change, index)),
    );
    const weighed = Float64Array.from(misfit);
    solveFactored(noise, size, weighed);
    let log = -0.5 * misfit.reduce((sum, each, i) => sum + each * (weighed[i] as number), 0);
    for (let i = 0; i < size; i += 1) log -= Math.log(noise[i * (size + 1)] as number);
    return log;
  });
  const best = Math.max(...CORNERS.map((corner) => logs[corner]));
  if (best === -Infinity) return { chances: null, turns, stake, measure };
  const weight = perCorner((corner) => Math.exp(logs[corner] - best));
  const total = CORNERS.reduce((sum, corner) => sum + weight[corner], 0);
  return { chances: perCorner((corner) => weight[corner] / total), turns, stake, measure };
};
