import type { Adjustment } from '../contract/adjustment.ts';
import type { Corner } from '../corners.ts';
import { measured } from '../measured.ts';
import { frictionOf, type AdjustmentNow } from './adjustment.ts';
import { warpWeights } from './warpReading.ts';
import { whichCorner, type CornerTold } from './whichCorner.ts';

/**
 * Which corner the last call turned, by what was read after it. Null where the newest reading followed
 * no call or several: then there is no one corner to tell.
 */
export const cornerTold = (
  adjustment: Adjustment,
  { response, history, targets }: AdjustmentNow,
): { readonly called: Corner; readonly told: CornerTold } | null => {
  const [call, ...more] = adjustment.rounds.at(-1)?.calls ?? [];
  const [last, newest] = history.readings.slice(-2);
  if (!call || more.length > 0 || !last || !newest) return null;
  const weights = warpWeights(response, response.logFactors);
  return {
    called: call.corner,
    told: whichCorner({
      response,
      called: call.corner,
      warp: weights.reduce(
        (sum, w, i) =>
          sum +
          w *
            ((newest.reading.loads.values[i] as number) - (last.reading.loads.values[i] as number)),
        0,
      ),
      points: history.points,
      tolerances: targets.heights.map(({ tolerance }) => tolerance),
      rises: history.points.map((_, i) => {
        const [from, to] = [last.reading.heights[i], newest.reading.heights[i]];
        return from && to
          ? measured(to.value - from.value, Math.hypot(from.u, to.u), Math.min(from.dof, to.dof))
          : null;
      }),
      friction: frictionOf(adjustment),
    }),
  };
};
