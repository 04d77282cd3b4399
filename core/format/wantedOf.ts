import type { Item } from '../sheet/items.ts';
import type { MassUnit } from '../units.ts';
import type { Wanted } from './valueShown.ts';

/** The unit in which an item is shown and typed: masses in the crew's, all else in its first. */
export const wantedOf = (item: Pick<Item, 'quantity'> | null, massUnit: MassUnit): Wanted => {
  const kind = item?.quantity ?? 'number';
  return { kind, unit: kind === 'mass' ? massUnit : null };
};
