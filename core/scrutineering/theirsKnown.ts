import type { Equipment } from '../contract/scrutineering.ts';
import type { Measured } from '../measured.ts';
import { byEvent, checkPairs } from './checkPairs.ts';
import { eventScatter, type EventScatter } from './eventScatter.ts';
import { offset, type NoOffset, type Offset } from './offset.ts';
import type { BothStates, ItemKind, Pair } from './pair.ts';
import type { Prediction } from './prediction.ts';
import { statedPrediction } from './stated.ts';

/** What is known of an authority's next reading of one quantity, and by what. */
export interface TheirsKnown {
  readonly offset: Offset | NoOffset;
  /** Null: nothing is known. */
  readonly basis: 'pairs' | 'stated' | 'limits of error' | null;
  readonly prediction: Prediction | null;
  readonly whyNone: string | null;
}

/** Scatter of the pairs of another authority, those with mixed units left out; null where none is left. */
const scatterOf = (kind: ItemKind, pairs: readonly Pair[]): EventScatter | null => {
  const wrong = new Set(checkPairs(kind, pairs).flatMap(({ sure, pair }) => (sure ? [pair] : [])));
  const sound = pairs.filter(({ id }) => !wrong.has(id));
  return sound.length === 0 ? null : eventScatter(byEvent(kind, sound).differences);
};

/**
 * Their next reading from the pairs where these tell enough; else from what the user states, else from
 * the authority's limits of error, both with our own uncertainty `ours`; else not known, with the reason.
 */
export const theirsKnown = ({
  kind,
  pairs,
  equipment,
  next,
  others,
  day,
  ours,
}: {
  readonly kind: ItemKind;
  readonly pairs: readonly Pair[];
  readonly equipment: Equipment | null;
  readonly next: BothStates | null;
  /** Pairs of each other authority, taken as alike where the equipment says so. */
  readonly others: readonly (readonly Pair[])[];
  /** Days since 1970 of the next reading, for a trend that is followed. */
  readonly day: number;
  readonly ours: Measured | null;
}): TheirsKnown => {
  const found = offset({
    kind,
    pairs,
    next,
    theirStep: equipment?.step ?? null,
    followTo: equipment?.followTrend ? day : null,
    poolWith: equipment?.poolOthers ? others.flatMap((each) => scatterOf(kind, each) ?? []) : [],
  });
  if (found.ok)
    return { offset: found, basis: 'pairs', prediction: found.prediction, whyNone: null };
  const stated = equipment?.stated
    ? ({ basis: 'stated', ...equipment.stated } as const)
    : equipment && equipment.limitOfError !== null
      ? ({ basis: 'limits of error', limit: equipment.limitOfError } as const)
      : null;
  const none = { offset: found, basis: null, prediction: null };
  if (!stated) return { ...none, whyNone: found.why };
  if (!ours) return { ...none, whyNone: 'We have not read it.' };
  const made = statedPrediction(stated, ours);
  return made.ok
    ? { offset: found, basis: stated.basis, prediction: made.prediction, whyNone: null }
    : { ...none, whyNone: made.why };
};
