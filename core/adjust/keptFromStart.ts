import { inOrder, type PerCorner } from '../corners.ts';
import { measured, type Measured } from '../measured.ts';
import { riseShares } from './heightPoint.ts';
import type { AdjustReading } from './reading.ts';
import type { Targets } from './targets.ts';
import { predictChange, type TurnResponse } from './turnResponse.ts';

/** Targets and heights of the newest reading with "keep" counted from the first reading. */
export interface KeptFromStart {
  readonly targets: Targets;
  readonly heights: readonly (Measured | null)[];
  /** Points that were never measured: their height is the rise since the first reading, metre. */
  readonly isRise: readonly boolean[];
}

/**
 * "Keep" means as it was when the adjustment began, not as the last call left it: calls are made one
 * at a time, and half-way the body stands elsewhere. A height that was measured is kept at what it was
 * then. One that was not is kept by how far the turns made since have raised it, by the response.
 */
export const keptFromStart = (input: {
  readonly targets: Targets;
  readonly start: AdjustReading;
  readonly response: TurnResponse;
  /** Turns made since the first reading, up positive. */
  readonly turns: PerCorner<number>;
  /** Heights now, by all readings; null where never measured. */
  readonly heights: readonly (Measured | null)[];
}): KeptFromStart => {
  const { targets, start, response, heights } = input;
  const { change, covariance } = predictChange(response, input.turns);
  const { car } = response.standing;
  const rises = targets.heights.map(({ point }): Measured => {
    const shares = riseShares(car, point);
    const variance = shares.reduce(
      (sum, a, i) =>
        sum +
        shares.reduce((s, b, k) => s + a * b * (covariance[(4 + i) * 8 + 4 + k] as number), 0),
      0,
    );
    const rise = shares.reduce((sum, share, i) => sum + share * (change[4 + i] as number), 0);
    return measured(rise, Math.sqrt(Math.max(0, variance)), Infinity);
  });
  const [lf, rf, lr, rr] = start.loads.values;
  const diagonal = targets.diagonal === 'RF+LR' ? rf + lr : lf + rr;
  const { cross } = targets;
  return {
    targets: {
      ...targets,
      cross:
        cross?.target === 'keep' ? { ...cross, target: diagonal / (lf + rf + lr + rr) } : cross,
      heights: targets.heights.map((goal, i) => {
        if (goal.target !== 'keep') return goal;
        const now = heights[i];
        const began = start.heights[i]?.value ?? (now ? now.value - (rises[i]?.value ?? 0) : 0);
        return { ...goal, target: began };
      }),
    },
    heights: targets.heights.map(
      ({ target }, i) => heights[i] ?? (target === 'keep' ? (rises[i] ?? null) : null),
    ),
    isRise: targets.heights.map(({ target }, i) => !heights[i] && target === 'keep'),
  };
};

/** Turns of several rounds together. */
export const turnsSum = (each: readonly PerCorner<number>[]): PerCorner<number> => {
  const sum = [0, 1, 2, 3].map((i) =>
    each.reduce((s, turns) => s + (inOrder(turns)[i] as number), 0),
  );
  const [LF = 0, RF = 0, LR = 0, RR = 0] = sum;
  return { LF, RF, LR, RR };
};
