import type { ItemKind } from './pair.ts';
import { mustRead, passing, theirReading, type Limit, type Prediction } from './prediction.ts';

/** An item that a rule limits, in SI or kg or a fraction of one. */
export interface LimitedItem {
  readonly id: string;
  readonly name: string;
  readonly kind: ItemKind;
  readonly limit: Limit;
  /** Our reading in the state in which theirs is taken; null where it was not taken. */
  readonly ours: number | null;
  /** What is known of their reading; null for nothing, with the reason. */
  readonly prediction: Prediction | null;
  readonly whyNone: string | null;
}

export interface MarginRow {
  readonly item: LimitedItem;
  /** Their next reading and the interval that holds it with the wished confidence. */
  readonly theirs: { readonly value: number; readonly low: number; readonly high: number } | null;
  /** Probability of passing; null is not known and the reason is in `why`. */
  readonly probability: number | null;
  /** The probability is at least this: their limits of error were taken at their worst. */
  readonly isAtLeast: boolean;
  /** From their predicted reading to the nearer limit; below zero it fails. */
  readonly margin: number | null;
  /** From our reading to what we must read for the wished confidence; below zero it is not met. */
  readonly spare: number | null;
  readonly verdict: 'passes' | 'tight' | 'fails' | 'unknown';
  readonly why: string | null;
}

const nearest = (value: number, { low, high }: Limit): number =>
  Math.min(low === null ? Infinity : value - low, high === null ? Infinity : high - value);

const UNKNOWN = {
  theirs: null,
  probability: null,
  isAtLeast: false,
  margin: null,
  spare: null,
  verdict: 'unknown',
} as const;

const row = (item: LimitedItem, wished: number): MarginRow => {
  const { ours, prediction, limit } = item;
  if (limit.low === null && limit.high === null)
    return { item, ...UNKNOWN, why: 'No limit is given.' };
  if (ours === null) return { item, ...UNKNOWN, why: 'We have not read it.' };
  if (!prediction)
    return { item, ...UNKNOWN, why: item.whyNone ?? 'Nothing is known of their reading.' };
  const theirs = theirReading(prediction, ours, wished);
  const probability = passing(prediction, ours, limit);
  const margin = nearest(theirs.value, limit);
  const must = mustRead(prediction, limit, wished);
  return {
    item,
    theirs,
    probability,
    isAtLeast: prediction.limit > 0,
    margin,
    spare: must.ok ? nearest(ours, must) : null,
    verdict: probability >= wished ? 'passes' : margin >= 0 ? 'tight' : 'fails',
    why: must.ok ? null : must.why,
  };
};

/** What will fail, what nobody can tell, what may pass. */
const rank = ({ probability, verdict }: MarginRow): number =>
  probability === null ? 1 : verdict === 'fails' ? 0 : 2;

/**
 * Every limited item with what their scale will probably say, the worst first: what fails, what is not
 * known, then the least probable.
 */
export const marginBoard = (items: readonly LimitedItem[], wished: number): readonly MarginRow[] =>
  items
    .map((item) => row(item, wished))
    .toSorted((a, b) => rank(a) - rank(b) || (a.probability ?? 0) - (b.probability ?? 0));
