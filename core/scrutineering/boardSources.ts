import type { BenchState } from '../contract/events.ts';
import type { KeptPair } from '../contract/scrutineering.ts';
import { itemsById, itemsOf } from '../sheet/items.ts';
import type { ValueSources } from '../sheet/itemValue.ts';
import type { KeptAuthority, pairsKept } from './keptScrutineering.ts';
import type { BoardSources } from './limitedItems.ts';
import { ourReading } from './ourReading.ts';

/** Wished while no scrutineers are chosen; common practice, no source. */
const WISHED = 0.99;

/** Chance with which an item is wished to pass, by the scrutineers that are chosen. */
export const wishedOf = (chosen: KeptAuthority | null): number =>
  chosen?.authority.wished ?? WISHED;

/** What a margin board is made from, for the car in hand and the scrutineers that are chosen. */
export const boardSources = (of: {
  readonly on: Pick<BenchState, 'car' | 'captures' | 'settings'>;
  /** Records of any car, oldest first. */
  readonly records: readonly ValueSources[];
  readonly authorities: readonly KeptAuthority[];
  readonly pairs: ReturnType<typeof pairsKept>;
  readonly chosen: KeptAuthority | null;
  readonly day: number;
}): BoardSources => {
  const { records, authorities, pairs, chosen, day } = of;
  const { car, captures, settings } = of.on;
  const cross = car.details?.cross ?? settings.cross;
  const alive = (id: string): readonly KeptPair[] =>
    (pairs.get(id) ?? []).flatMap(({ pair, isAside }) => (isAside ? [] : [pair]));
  const extras = records.findLast(({ record }) => record.carId === car.id)?.record.extras ?? [];
  return {
    car,
    items: itemsById(itemsOf(car, extras)),
    ourReading: (item) => ourReading(item, { carId: car.id, records, captures, cross }),
    authority: chosen?.authority ?? null,
    pairs: chosen ? alive(chosen.id) : [],
    others: authorities.filter(({ id }) => id !== chosen?.id).map(({ id }) => alive(id)),
    day,
  };
};
