import type { Kept, KeptKind, KeptOf } from '../contract/kept.ts';
import type { Outcome } from './ports.ts';
import type { StorePort } from './storePort.ts';

/** A record before it has its id, its time and its world. */
export type ToKeep<K extends KeptKind = KeptKind> = K extends KeptKind
  ? Omit<KeptOf<K>, 'id' | 'at' | 'practice'>
  : never;

/**
 * The kept records, held in hand and written through. Those of the practice rig and the real ones are
 * two worlds that do not see each other; what is owned or known (cars, venues, masses, plates, pad
 * descriptions, authorities) is in both.
 */
export interface KeptBook {
  /** All of a kind, oldest first. */
  all<K extends KeptKind>(kind: K): readonly KeptOf<K>[];
  of<K extends KeptKind>(kind: K, subject: string): readonly KeptOf<K>[];
  /** The newest of each subject, in the order in which the subjects first came. */
  newest<K extends KeptKind>(kind: K): readonly KeptOf<K>[];
  keep(record: ToKeep): Outcome;
  /** Goes up with every record that is kept, and from start to start. */
  readonly kept: number;
}

const IN_BOTH_WORLDS: ReadonlySet<KeptKind> = new Set([
  'mass set',
  'set aside',
  'pad description',
  'plates',
  'authority',
  'conflict',
]);

export const createKeptBook = (ports: {
  readonly store: StorePort;
  readonly newId: () => string;
  readonly wallClock: () => number;
  readonly isPractice: () => boolean;
}): KeptBook => {
  const { store, newId, wallClock, isPractice } = ports;
  const read = new Map<KeptKind, Kept[]>();
  // From the wall clock on: after a new start no screen takes what it read before for the newest.
  let count = wallClock();
  const ofKind = (kind: KeptKind): Kept[] => {
    const known = read.get(kind) ?? [...store.kept(kind)];
    read.set(kind, known);
    return known;
  };
  const isKind = <K extends KeptKind>(record: Kept, kind: K): record is KeptOf<K> =>
    record.kind === kind;

  const all = <K extends KeptKind>(kind: K): readonly KeptOf<K>[] => {
    const practice = isPractice();
    return ofKind(kind)
      .filter((record): record is KeptOf<K> => isKind(record, kind))
      .filter((record) => IN_BOTH_WORLDS.has(kind) || record.practice === practice);
  };
  return {
    get kept() {
      return count;
    },
    all,
    of: (kind, subject) => all(kind).filter((record) => record.subject === subject),
    newest: (kind) => [
      ...new Map(all(kind).map((record) => [record.subject, record] as const)).values(),
    ],
    keep: (record) => {
      const known = ofKind(record.kind);
      const kept: Kept = { ...record, id: newId(), at: wallClock(), practice: isPractice() };
      const outcome = store.keep(kept);
      if (outcome.ok) {
        known.push(kept);
        count += 1;
      }
      return outcome;
    },
  };
};
