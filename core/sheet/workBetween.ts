import type { PlacedCall } from './callsKept.ts';
import type { CarRecord, Work } from './carRecord.ts';
import type { Item } from './items.ts';
import { standingOf } from './stale.ts';

/** Something done to the car on purpose, and between which readings it lies. */
export interface DoneBetween {
  /** Calls made on Adjust come as the turns they are. */
  readonly work: Pick<Work, 'what' | 'corner' | 'axle' | 'part' | 'amount'>;
  readonly isCall: boolean;
  /** Whether the item was read in one of the two records before it was done, in the other after. */
  readonly isBetween: (item: Item) => boolean;
}

/** What two records of one car are joined by; the earlier first. */
export interface Interval {
  readonly first: CarRecord;
  readonly last: CarRecord;
  /** Records of the car that were begun between the two. */
  readonly between: readonly CarRecord[];
  readonly calls: readonly PlacedCall[];
}

/** Where in a record the newest reading of an item that counts stands, and when it was taken. */
const readAt = (
  record: CarRecord,
  item: Item,
): { readonly index: number; readonly at: number } | null => {
  const { fresh, stale } = standingOf(record, item);
  const entry = fresh.at(-1) ?? stale.at(-1);
  return entry ? { index: record.entries.indexOf(entry), at: entry.at } : null;
};

/**
 * All that was done on purpose between two records. Within a record the order of the entries decides,
 * whatever the clocks say; a call has only its time, and is held against those of the readings.
 */
export const workBetween = ({ first, last, between, calls }: Interval): readonly DoneBetween[] => {
  const works = (record: CarRecord, isBetween: (index: number, item: Item) => boolean) =>
    record.entries.flatMap((entry, index): DoneBetween[] =>
      entry.is === 'work'
        ? [{ work: entry, isCall: false, isBetween: (item) => isBetween(index, item) }]
        : [],
    );
  const inFirst = (item: Item) => readAt(first, item);
  const inLast = (item: Item) => readAt(last, item);
  const isBoth = (item: Item): boolean => inFirst(item) !== null && inLast(item) !== null;
  return [
    ...works(first, (index, item) => index > (inFirst(item)?.index ?? Infinity)),
    ...between.flatMap((record) => works(record, (_index, item) => isBoth(item))),
    ...works(last, (index, item) => index < (inLast(item)?.index ?? -1)),
    ...calls.map(({ corner, turns, at }): DoneBetween => ({
      work: { what: 'height adjuster', corner, axle: null, part: null, amount: turns },
      isCall: true,
      isBetween: (item) =>
        at > (inFirst(item)?.at ?? Infinity) && at <= (inLast(item)?.at ?? -Infinity),
    })),
  ];
};
