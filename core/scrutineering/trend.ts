import { fTail } from '../statistics/fDistribution.ts';
import { linearModel } from '../statistics/linearModel.ts';

/** A straight line through the event means over time. */
export interface Trend {
  /** Change a day, and its standard uncertainty. */
  readonly perDay: number;
  readonly u: number;
  /** Events less two. */
  readonly dof: number;
  /** Probability, on both sides, of so steep a line by chance. */
  readonly p: number;
  /** Mean square of the event means about the line. */
  readonly meanSquare: number;
  readonly events: number;
  /** The mean day, the line there, and Σ(day − mean day)². */
  readonly middle: number;
  readonly level: number;
  readonly spread: number;
}

/** The line at a day, and its leverage there: variance of the line over `meanSquare`. */
export const trendAt = (
  { events, middle, level, spread, perDay }: Trend,
  day: number,
): { readonly value: number; readonly leverage: number } => ({
  value: level + perDay * (day - middle),
  leverage: 1 / events + (day - middle) ** 2 / spread,
});

/**
 * Trend of event means over their days by least squares, every event counting once (NBS Handbook 91,
 * 5-4.1). Null for fewer than three events, a day that is not known, or all on one day.
 */
export const trend = (days: readonly (number | null)[], means: readonly number[]): Trend | null => {
  const known = days.filter((day) => day !== null);
  if (known.length < 3 || known.length < days.length) return null;
  const middle = known.reduce((sum, day) => sum + day, 0) / known.length;
  const spread = known.reduce((sum, day) => sum + (day - middle) ** 2, 0);
  const fit = linearModel(
    known.map((day) => [1, day - middle]),
    means,
  );
  if (!fit || !(spread > 0)) return null;
  const [level = 0, perDay = 0] = fit.coefficients;
  const u = fit.residualSd / Math.sqrt(spread);
  return {
    perDay,
    u,
    dof: fit.dof,
    p: u > 0 ? fTail((perDay / u) ** 2, 1, fit.dof) : perDay === 0 ? 1 : 0,
    meanSquare: fit.squares / fit.dof,
    events: known.length,
    middle,
    level,
    spread,
  };
};
