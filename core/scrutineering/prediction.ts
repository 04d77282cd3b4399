import { studentT } from '../signal/studentT.ts';
import { findRoot } from '../statistics/findRoot.ts';

/**
 * What their next reading will be, as plain data: ours + `shift` + chance. Chance has the variance
 * `between` + `within`: estimated from `dof` degrees of freedom (between), and what pairs of one event add
 * to it. `limit` is the most that their equipment may be off beyond that, by its own limits of error: of
 * that the worst is taken, so that every probability is then *at least*.
 */
export interface Prediction {
  readonly shift: number;
  /** (1 + leverage) × mean square of the event means. */
  readonly between: number;
  /** Whole, or Infinity where `between` is known. */
  readonly dof: number;
  /** (1 − mean of 1/mᵢ) × mean square within events; 0 where every event has one pair. */
  readonly within: number;
  readonly limit: number;
}

/** Tails below this are not told apart: 7 standard deviations of the normal. */
const LEAST_TAIL = 1e-12;

/**
 * How far their reading may be from its centre on one side, exceeded with probability `tail` < ½:
 * m² = t²·between + y²·within, y² = z²/(1 + (z² + 1)/(4ν)), t Student's and z the normal quantile.
 *
 * With one pair in every event, or where events differ much more than pairs, this is Student's
 * prediction and exact. In between, for few events, Satterthwaite's approximation (T.-H. Lin and C.-T.
 * Liao, J. Stat. Plan. Inference 138 (2008) 3164) fails up to four times as often as wished (two events
 * of four pairs), and the fiducial answer a tenth as often. Here y is the second-order term of Welch's
 * series (Biometrika 34 (1947) 28), y² = z² − z²(z² + 1)w/(2ν) at the share w of the part between, taken
 * at w = ½ and as a fraction, so that it stays above zero. By integration over all chance, 2 to 20
 * events of 2 to 4 pairs, any bias: 0.64 to 1.25 % fail at a wished 1 %, 3.9 to 5.6 % at 5 %.
 */
export const marginAt = (prediction: Prediction, tail: number): number => {
  const { between, dof, within, limit } = prediction;
  if (!(tail > 0 && tail < 1)) throw new RangeError(`not a tail: ${tail}`);
  if (tail === 0.5) return limit;
  if (tail > 0.5) return limit - chance(1 - tail, between, dof, within);
  return limit + chance(tail, between, dof, within);
};

const chance = (tail: number, between: number, dof: number, within: number): number => {
  const z = studentT(2 * tail, Infinity);
  const t = dof === Infinity ? z : studentT(2 * tail, dof);
  const y2 = z ** 2 / (1 + (z ** 2 + 1) / (4 * dof));
  return Math.sqrt(t ** 2 * between + y2 * within);
};

/** Probability that their reading is further than `margin` from its centre on one side. */
export const tailBeyond = (prediction: Prediction, margin: number): number => {
  const { between, dof, within, limit } = prediction;
  const m = Math.abs(margin - limit);
  const outside = (tail: number): number => (margin < limit ? 1 - tail : tail);
  const reach = (logTail: number): number =>
    Math.log(chance(Math.exp(logTail), between, dof, within) / m);
  const most = Math.log(0.5 - 1e-9);
  if (!(reach(most) < 0)) return 0.5;
  if (reach(Math.log(LEAST_TAIL)) < 0) return outside(LEAST_TAIL);
  return outside(Math.exp(findRoot(reach, Math.log(LEAST_TAIL), most)));
};

/** What a rule allows, in the item's unit; null on a side without a limit. */
export interface Limit {
  readonly low: number | null;
  readonly high: number | null;
}

/** Probability that their reading of our `ours` keeps the limit; *at least* with a stated limit. */
export const passing = (prediction: Prediction, ours: number, { low, high }: Limit): number => {
  const centre = ours + prediction.shift;
  const below = low === null ? 0 : tailBeyond(prediction, centre - low);
  const above = high === null ? 0 : tailBeyond(prediction, high - centre);
  return Math.max(0, 1 - below - above);
};

/** Their reading of our `ours`: its centre, and the interval that holds it with `confidence`. */
export const theirReading = (
  prediction: Prediction,
  ours: number,
  confidence: number,
): { readonly value: number; readonly low: number; readonly high: number } => {
  const value = ours + prediction.shift;
  const reach = marginAt(prediction, (1 - confidence) / 2);
  return { value, low: value - reach, high: value + reach };
};

/** What we must read so that theirs passes; null on a side without a limit. */
export type MustRead =
  ({ readonly ok: true } & Limit) | { readonly ok: false; readonly why: string };

/**
 * Our reading from which theirs keeps the limit with the wished confidence (½ to 1). One side: the limit,
 * less the shift, plus the one-sided margin. Two sides: both tails together stay below the rest.
 */
export const mustRead = (
  prediction: Prediction,
  { low, high }: Limit,
  confidence: number,
): MustRead => {
  if (!(confidence > 0.5 && confidence < 1))
    return { ok: false, why: 'The wished confidence lies between 50 and 100 %.' };
  if (low === null && high === null) return { ok: false, why: 'No limit is given.' };
  const { shift } = prediction;
  const reach = marginAt(prediction, 1 - confidence);
  if (low === null || high === null)
    return {
      ok: true,
      low: low === null ? null : low - shift + reach,
      high: high === null ? null : high - shift - reach,
    };
  if (low >= high) return { ok: false, why: 'The lower limit is not below the upper one.' };
  const middle = (low + high) / 2 - shift;
  const over = (ours: number): number => passing(prediction, ours, { low, high }) - confidence;
  if (over(middle) < 0)
    return {
      ok: false,
      why: 'No reading of ours passes so surely: their limits are closer together than their readings scatter.',
    };
  // One tail alone takes all that is allowed at `reach` from its limit; the other only adds to it.
  const edge = over(middle) === 0 ? middle : findRoot(over, low - shift, middle);
  return { ok: true, low: edge, high: 2 * middle - edge };
};
