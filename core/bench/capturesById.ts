import type { Capture } from '../contract/records.ts';
import type { KeptBook } from './keptBook.ts';
import type { StorePort } from './storePort.ts';

/** Captures of some ids, in the order of the ids: those made here, then those that came with a file. */
export const capturesById =
  (store: StorePort, book: KeptBook) =>
  (ids: readonly string[]): readonly Capture[] => {
    const wanted = new Set(ids);
    return [
      ...store.capturesById(ids),
      ...book
        .newest('capture read in')
        .map(({ capture }) => capture)
        .filter(({ id }) => wanted.has(id)),
    ];
  };
