import { firstUnit } from '../format/unitTable.ts';
import { valueText } from '../format/valueShown.ts';
import type { Item } from './items.ts';
import { mixedUp, siName } from './mixedUp.ts';

/**
 * Refuses what an item cannot be, an impossible toe for instance, with the unit that was probably meant;
 * null for a value that can be. `where` is the unit of the field it was typed into, as it is shown (null:
 * the first of its kind), or a file, which has SI.
 */
export const impossibleValue = (
  value: number,
  item: Item,
  where: { readonly field: string | null } | 'file',
): string | null => {
  const { quantity: kind, possible } = item;
  const [least, most] = possible;
  if (value >= least && value <= most) return null;
  const field = where === 'file' ? null : (where.field ?? firstUnit(kind).unit);
  const say = (each: number): string =>
    field === null
      ? `${Number(each.toPrecision(5))} ${siName(kind)}`
      : valueText({ kind, unit: field }, each);
  const guess = mixedUp(value, { kind, field, expected: null, possible });
  return `${item.label} cannot be ${say(value)}: it lies between ${say(least)} and ${say(most)}. ${guess?.words ?? 'Read it again.'}`;
};
