import type { Authority, KeptPair } from '../contract/scrutineering.ts';
import { capital } from '../format/capital.ts';
import type { Car } from '../sheet/car.ts';
import type { Item } from '../sheet/items.ts';
import type { LimitedItem } from './marginBoard.ts';
import type { OurReading } from './ourReading.ts';
import { massBetween, type BothStates } from './pair.ts';
import { pairKindOf, quantityOf, readingStateOf } from './quantity.ts';
import { theirsKnown, type TheirsKnown } from './theirsKnown.ts';

/** A limited item with all that stands behind it. */
export interface BoardItem {
  readonly limited: LimitedItem;
  /** Null where the car has no such item any more. */
  readonly item: Item | null;
  readonly reading: OurReading;
  /** Null without scrutineers. */
  readonly known: TheirsKnown | null;
  /** What must be known beside the numbers, in sentences. */
  readonly notes: readonly string[];
}

export interface BoardSources {
  readonly car: Car;
  readonly items: ReadonlyMap<string, Item>;
  readonly ourReading: (item: Item) => OurReading;
  readonly authority: Authority | null;
  /** Pairs of this authority, and of each other one. */
  readonly pairs: readonly KeptPair[];
  readonly others: readonly (readonly KeptPair[])[];
  /** Days since 1970. */
  readonly day: number;
}

const NO_AUTHORITY = 'Nothing is known of their equipment: add the scrutineers first.';

/** The states in which we read and they will read. */
const nextStates = (reading: OurReading, authority: Authority): BothStates | null =>
  reading.is === 'read' ? { ours: readingStateOf(reading.state), theirs: authority.reads } : null;

/** Their next reading of an item, from the pairs of its quantity. */
export const knownOf = (
  item: Item,
  reading: OurReading,
  { authority, pairs, others, day }: BoardSources,
): TheirsKnown | null => {
  if (!authority) return null;
  const quantity = quantityOf(item.id);
  const own = (all: readonly KeptPair[]): readonly KeptPair[] =>
    all.filter((pair) => quantityOf(pair.item) === quantity);
  return theirsKnown({
    kind: pairKindOf(item),
    pairs: own(pairs),
    equipment: authority.equipment.find((each) => each.quantity === quantity) ?? null,
    next: nextStates(reading, authority),
    others: others.map(own).filter((each) => each.length > 0),
    day,
    ours: reading.is === 'read' ? reading.value : null,
  });
};

const notesOf = (
  item: Item,
  reading: Extract<OurReading, { is: 'read' }>,
  authority: Authority | null,
): readonly string[] => {
  const next = authority && nextStates(reading, authority);
  return [
    ...(reading.stale ? ['Work was done since we read it.'] : []),
    ...(reading.unknown.length > 0
      ? [`Our uncertainty is a lower bound: not known is ${reading.unknown.join(', ')}.`]
      : []),
    ...(item.kind === 'total' && next && massBetween(next) === null
      ? ['Seat or fuel is not said for both readings: the total is not corrected for them.']
      : []),
  ];
};

/**
 * What the rules of the car limit, each with our newest reading and what is known of theirs. A total is
 * brought to the seat and fuel masses with which they read it.
 */
export const limitedItems = (sources: BoardSources): readonly BoardItem[] => {
  const { car, items, authority } = sources;
  return (car.details?.ruleLimits ?? []).map((rule): BoardItem => {
    const item = items.get(rule.item) ?? null;
    const limit = { low: rule.least, high: rule.most };
    if (!item) {
      const why = 'This car has no such item.';
      return {
        limited: {
          id: rule.item,
          name: rule.item,
          kind: 'other',
          limit,
          ours: null,
          prediction: null,
          whyNone: why,
        },
        item,
        reading: { is: 'missing', why },
        known: null,
        notes: [why],
      };
    }
    const reading = sources.ourReading(item);
    const known = knownOf(item, reading, sources);
    const next = authority && nextStates(reading, authority);
    const added = item.kind === 'total' && next ? (massBetween(next) ?? 0) : 0;
    return {
      limited: {
        id: item.id,
        name: capital(item.label),
        kind: pairKindOf(item),
        limit,
        ours: reading.is === 'read' ? reading.value.value + added : null,
        prediction: known?.prediction ?? null,
        whyNone: known ? known.whyNone : NO_AUTHORITY,
      },
      item,
      reading,
      known,
      notes: reading.is === 'read' ? notesOf(item, reading, authority) : [],
    };
  });
};
