import type { CarRecord, Entry, Work } from './carRecord.ts';
import type { Item } from './items.ts';
import { disturbs } from './orderOfWork.ts';
import type { Tie } from './ties.ts';

/** What of a record still holds for an item. */
export interface Standing {
  /** Entries that count for it and that nothing has disturbed since, oldest first. */
  readonly fresh: readonly Entry[];
  /** Entries that count but were disturbed. */
  readonly stale: readonly Entry[];
  /** The last work that disturbed the item; null where none did. */
  readonly disturbedBy: Work | null;
}

const countsFor = (entry: Entry, item: Item): boolean => {
  if (entry.is === 'work' || entry.setAside) return false;
  return entry.is === 'reading' ? entry.item === item.id : item.from === 'pads';
};

/** Splits the entries of an item at the last work that disturbed it. */
export const standingOf = (record: CarRecord, item: Item): Standing => {
  const { entries } = record;
  const last = entries.findLastIndex((entry) => entry.is === 'work' && disturbs(entry, item));
  const work = entries[last];
  const counting = entries
    .map((entry, index) => ({ entry, index }))
    .filter(({ entry }) => countsFor(entry, item));
  return {
    fresh: counting.filter(({ index }) => index > last).map(({ entry }) => entry),
    stale: counting.filter(({ index }) => index < last).map(({ entry }) => entry),
    disturbedBy: work?.is === 'work' ? work : null,
  };
};

/**
 * The items of a record that were measured and then disturbed by work, with the last work that did it;
 * an item that follows from others is stale when one of them is. An item that was never measured is not
 * stale but missing.
 */
export const staleItems = (
  record: CarRecord,
  items: readonly Item[],
  ties: readonly Tie[],
): ReadonlyMap<string, Work> => {
  const stale = new Map<string, Work>();
  const measured = new Set<string>();
  for (const item of items) {
    const standing = standingOf(record, item);
    if (standing.fresh.length > 0 || standing.stale.length > 0) measured.add(item.id);
    if (standing.disturbedBy && standing.fresh.length === 0 && standing.stale.length > 0)
      stale.set(item.id, standing.disturbedBy);
  }
  for (const tie of ties) {
    const from = tie.of.map(({ item }) => item);
    if (measured.has(tie.item) || !from.every((item) => measured.has(item))) continue;
    const work = from.map((item) => stale.get(item)).find((each) => each !== undefined);
    if (work) stale.set(tie.item, work);
  }
  return stale;
};
