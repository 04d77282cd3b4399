import type { CarRecord } from './carRecord.ts';
import type { Item } from './items.ts';
import { waysOf, wayTaken, type Way } from './ways.ts';

/** The way in which an item of this kind was read last; null where none was. */
export const lastWay = (
  item: Item,
  record: CarRecord | null,
  items: ReadonlyMap<string, Item>,
): Way | null => {
  const last = record?.entries.findLast(
    (entry) => entry.is === 'reading' && items.get(entry.item)?.kind === item.kind,
  );
  return last?.is === 'reading' ? wayTaken(last.of, waysOf(item)) : null;
};

/** The newest number of this name among the parts of a record's readings; null where there is none. */
export const lastPart = ({ entries }: CarRecord, what: string): number | null =>
  entries
    .toReversed()
    .flatMap((entry) => (entry.is === 'reading' ? entry.of : []))
    .find((part) => part.what === what)?.value ?? null;
