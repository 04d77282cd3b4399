import { KILOGRAM_PER_POUND } from '../units.ts';
import { eventScatter } from './eventScatter.ts';
import { difference, oursAtTheirPlace, type ItemKind, type Pair } from './pair.ts';
import { marginAt } from './prediction.ts';

/** What looks wrong about a pair. `sure` ones are no difference of two scales and are not computed with. */
export interface PairFinding {
  readonly pair: string;
  readonly sure: boolean;
  /** The two readings exchanged would make it fit. */
  readonly isSwapped: boolean;
  readonly text: string;
}

const MASS: readonly (readonly [ratio: number, text: string])[] = [
  [1 / KILOGRAM_PER_POUND, 'theirs is in lb and ours in kg'],
  [KILOGRAM_PER_POUND, 'ours is in lb and theirs in kg'],
];

/** Theirs over ours for each mix-up of units or signs. */
const MIX_UPS: Readonly<Record<ItemKind, typeof MASS>> = {
  total: MASS,
  mass: MASS,
  length: [
    [1 / 25.4, 'theirs is in inches and ours in millimetres'],
    [25.4, 'ours is in inches and theirs in millimetres'],
    [1000, 'theirs is in millimetres and ours in metres'],
    [0.001, 'ours is in millimetres and theirs in metres'],
    [10, 'theirs is in millimetres and ours in centimetres'],
    [0.1, 'ours is in millimetres and theirs in centimetres'],
  ],
  angle: [
    [60, 'theirs is in minutes and ours in degrees'],
    [1 / 60, 'ours is in minutes and theirs in degrees'],
  ],
  share: [
    [100, 'theirs is in percent and ours a fraction'],
    [0.01, 'ours is in percent and theirs a fraction'],
  ],
  other: [],
};

/** A ratio within so much of a mix-up's is one; two scales differ less, two units more. No source. */
const CLOSE = 0.1;

/** Small angles may well differ in sign, so this is asked and not decided. */
const oppositeSign = (kind: ItemKind, { id, label, ours, theirs }: Pair): PairFinding | null =>
  kind === 'angle' && Math.abs(theirs / ours + 1) < CLOSE
    ? {
        pair: id,
        sure: false,
        isSwapped: false,
        text: `${label}: ours and theirs have opposite signs. Camber is negative with the top leaning in.`,
      }
    : null;

const mixUp = (kind: ItemKind, pair: Pair): PairFinding | null => {
  const say = (text: string): PairFinding => ({
    pair: pair.id,
    sure: true,
    isSwapped: false,
    text: `${pair.label}: ${text}.`,
  });
  if (!Number.isFinite(pair.ours) || !Number.isFinite(pair.theirs))
    return say('a reading is missing');
  if (pair.gravity && !(pair.gravity.taken > 9.7 && pair.gravity.there > 9.7))
    return say('gravity is about 9.8 m/s²');
  const ratio = pair.theirs / oursAtTheirPlace(kind, pair);
  const found = MIX_UPS[kind].find(([wrong]) => Math.abs(ratio / wrong - 1) < CLOSE);
  return found ? say(`it looks as if ${found[1]}`) : null;
};

/** A pair this far out of what the others predict, on both sides together, is asked about. */
const FAR = 0.01;
const NEAR = 0.1;

/**
 * A pair whose difference is far from what the pairs of all other events predict, while its opposite
 * is right among them: the two columns were probably swapped. Needs two other events.
 */
const swapped = (kind: ItemKind, pair: Pair, others: readonly Pair[]): PairFinding | null => {
  const { mean, between, events } = eventScatter(byEvent(kind, others).differences);
  if (!between || !(between.value > 0)) return null;
  const rest = {
    shift: 0,
    between: between.value * (1 + 1 / events),
    dof: between.dof,
    within: 0,
    limit: 0,
  };
  const d = difference(kind, pair);
  const isFar = Math.abs(d - mean) > marginAt(rest, FAR / 2);
  const fits = Math.abs(-d - mean) < marginAt(rest, NEAR / 2);
  if (!isFar || !fits) return null;
  return {
    pair: pair.id,
    sure: false,
    isSwapped: true,
    text: `${pair.label}: ours and theirs look swapped; it would fit the others the other way round.`,
  };
};

/** Pairs in their events, in the order in which events come. */
export const byEvent = (
  kind: ItemKind,
  pairs: readonly Pair[],
): { readonly events: readonly (readonly Pair[])[]; readonly differences: number[][] } => {
  const found = new Map<string, Pair[]>();
  for (const pair of pairs) found.set(pair.event, [...(found.get(pair.event) ?? []), pair]);
  const events = [...found.values()];
  return {
    events,
    differences: events.map((event) => event.map((pair) => difference(kind, pair))),
  };
};

/** Everything that looks wrong, pair by pair: mixed units or signs, missing readings, swapped columns. */
export const checkPairs = (kind: ItemKind, pairs: readonly Pair[]): readonly PairFinding[] => {
  const mixUps = pairs.map((pair) => mixUp(kind, pair)).filter((found) => found !== null);
  const wrong = new Set(mixUps.map(({ pair }) => pair));
  const sound = pairs.filter(({ id }) => !wrong.has(id));
  const signs = sound.map((pair) => oppositeSign(kind, pair)).filter((found) => found !== null);
  const swaps = sound
    .map((pair) => {
      const others = sound.filter(({ event }) => event !== pair.event);
      return new Set(others.map(({ event }) => event)).size < 2
        ? null
        : swapped(kind, pair, others);
    })
    .filter((found) => found !== null);
  return [...mixUps, ...signs, ...swaps];
};
