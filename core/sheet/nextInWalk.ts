import type { CarRecord } from './carRecord.ts';
import type { Item } from './items.ts';
import { standingOf } from './stale.ts';

/** How far the walk round the car has come. */
export interface WalkProgress {
  readonly done: number;
  readonly of: number;
  /** Where to go next; null when all is done. */
  readonly next: Item | null;
}

/** An item of the walk is done while a reading of it counts and nothing has disturbed it. */
const isDone = (record: CarRecord, item: Item): boolean =>
  standingOf(record, item).fresh.length > 0;

/**
 * The next item of the walk that is not done, after the one where the person stands and then from the
 * beginning; null `from` begins at the beginning.
 */
export const walkProgress = (
  record: CarRecord,
  walk: readonly Item[],
  from: string | null,
): WalkProgress => {
  const open = walk.filter((item) => !isDone(record, item));
  const place = walk.findIndex(({ id }) => id === from);
  const next = open.find((item) => walk.indexOf(item) > place) ?? open[0] ?? null;
  return { done: walk.length - open.length, of: walk.length, next };
};
