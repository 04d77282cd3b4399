import type { Wanted } from '../../../core/format/valueShown.ts';
import type { Item } from '../../../core/sheet/items.ts';
import type { MassUnit } from '../../../core/units.ts';

/** The unit in which an item is shown and typed here. */
export const wantedOf = (item: Pick<Item, 'quantity'> | null, massUnit: MassUnit): Wanted => {
  const kind = item?.quantity ?? 'number';
  return { kind, unit: kind === 'mass' ? massUnit : null };
};
