import type { CarState } from '../sheet/carState.ts';
import { ITEM_KINDS } from '../sheet/itemKinds.ts';
import type { Item } from '../sheet/items.ts';
import type { ItemKind, ReadingState } from './pair.ts';

/**
 * What an item is read with: all cambers with one gauge, all ride heights with another, so that pairs
 * of every corner tell of the same equipment. A free item stands for itself.
 */
export const quantityOf = (itemId: string): string => {
  const [kind = itemId] = itemId.split('.');
  return kind === 'extra' ? itemId : kind;
};

/** A quantity in words; `items` names the free ones. */
export const quantityWords = (quantity: string, items: ReadonlyMap<string, Item>): string =>
  Object.entries(ITEM_KINDS).find(([kind]) => kind === quantity)?.[1].words ??
  items.get(quantity)?.label ??
  quantity;

/** How an item's pairs are computed with. */
export const pairKindOf = ({ kind, quantity }: Pick<Item, 'kind' | 'quantity'>): ItemKind => {
  if (kind === 'total') return 'total';
  switch (quantity) {
    case 'mass':
    case 'length':
    case 'angle':
    case 'share':
      return quantity;
    default:
      return 'other';
  }
};

/** A car's state as far as scrutineers' readings depend on it; tyres alone do not say if they are hot. */
export const readingStateOf = ({ seatMass, fuelMass, wheels }: CarState): ReadingState => ({
  seatMass,
  fuelMass,
  tyres: wheels === 'set-up wheels' ? wheels : null,
});
