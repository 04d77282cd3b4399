import type { Settings } from '../../../core/contract/settings.ts';
import type { Wanted } from '../../../core/format/valueShown.ts';
import type { Item } from '../../../core/sheet/items.ts';
import { lineOf, type SetUpSheet } from '../../../core/sheet/setUpSheet.ts';

/** The unit that the sheet wants an item in, else that of the settings. */
export const wantedIn = (
  item: Item,
  sheet: SetUpSheet | null,
  { massUnit }: Pick<Settings, 'massUnit'>,
): Wanted => ({
  kind: item.quantity,
  unit: (sheet && lineOf(sheet, item.id)?.unit) ?? (item.quantity === 'mass' ? massUnit : null),
});
