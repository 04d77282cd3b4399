import type { Adjustment } from '../contract/adjustment.ts';
import { CORNERS, inOrder, type Corner } from '../corners.ts';
import { measured } from '../measured.ts';
import type { AdjustmentNow } from './adjustment.ts';
import { frictionBand, needsSettle, type Approach, type FrictionBand } from './frictionBand.ts';
import { effectsAndSlopes } from './turnResponse.ts';
import { warpPerTurn, warpWeights } from './warpReading.ts';

/** The friction band of an adjustment, in cross weight. */
export interface RestBand {
  readonly corner: Corner;
  readonly band: FrictionBand;
  /** Share of cross weight per newton of warp at the left front, its size. */
  readonly crossPerWarp: number;
  /** Whether the car is to be settled before the next reading is judged. */
  readonly needsSettle: boolean;
}

/**
 * The band between the two directions of approach, from all readings of an adjustment: turns at other
 * corners count as the turns of the last turned corner that would make the same warp. Null where no
 * corner has an adjuster, or no cross weight is wanted.
 */
export const restBand = (
  { targets, friction, rounds }: Adjustment,
  { response, history, adjusters }: AdjustmentNow,
): RestBand | null => {
  const corner =
    rounds.findLast(({ calls }) => calls.length > 0)?.calls[0]?.corner ??
    CORNERS.find((each) => adjusters[each]);
  if (!corner || !targets.cross) return null;
  const effects = effectsAndSlopes(response, response.logFactors);
  const perTurn = CORNERS.map((each) => warpPerTurn(response, each, effects));
  const own = perTurn[CORNERS.indexOf(corner)];
  if (!own || own.value === 0) return null;
  const weights = warpWeights(response, response.logFactors);
  let turns = 0;
  const approaches = history.readings.map(({ turns: since, reading }): Approach => {
    const { values, covariance } = reading.loads;
    const moved = inOrder(since).reduce(
      (sum, each, i) => sum + (each * (perTurn[i]?.value ?? 0)) / own.value,
      0,
    );
    turns += moved;
    const warp = weights.reduce((sum, w, i) => sum + w * (values[i] as number), 0);
    const variance = weights.reduce(
      (sum, w, i) =>
        sum + weights.reduce((s, v, k) => s + w * v * (covariance[i * 4 + k] as number), 0),
      0,
    );
    return {
      warp: measured(warp, Math.sqrt(Math.max(0, variance)), Infinity),
      turns,
      from: reading.settled === 'bounced' ? 'settled' : moved < 0 ? 'down' : 'up',
    };
  });
  const { car } = response.standing;
  const most = CORNERS.reduce(
    (sum, each, i) =>
      sum +
      Math.abs(effects.effects[i]?.[0] ?? 0) *
        (friction / (car.wheelRates[each] * Math.exp(response.logFactors[4 + i] as number))),
    0,
  );
  const band = frictionBand(approaches, own, 2 * most);
  if (!band) return null;
  const total = history.readings.at(-1)?.reading.loads.values.reduce((s, load) => s + load, 0) ?? 0;
  const crossPerWarp = (1 + car.trackFront / car.trackRear) / total;
  return {
    corner,
    band,
    crossPerWarp,
    needsSettle: needsSettle(band, targets.cross.tolerance / crossPerWarp),
  };
};
