import type { CarRecord } from './carRecord.ts';
import type { Item } from './items.ts';
import { standingOf } from './stale.ts';

/** How far an item is: each with a shape and a word on the screen. */
const ITEM_MARKS = ['to do', 'done', 'questioned', 'stale'] as const;
export type ItemMark = (typeof ITEM_MARKS)[number];

/**
 * The mark of an item that is read. Questioned: nothing but readings that were asked about when they
 * were typed; one more that agrees settles it. Stale: work was done since, and nothing read after it.
 */
export const markOf = (record: CarRecord, item: Item): ItemMark => {
  const { fresh, stale } = standingOf(record, item);
  if (fresh.length === 0) return stale.length > 0 ? 'stale' : 'to do';
  const asked = fresh.every((entry) => entry.is === 'reading' && entry.questioned !== null);
  return asked ? 'questioned' : 'done';
};
