import type { KeptOf } from '../contract/kept.ts';
import type { Authority, KeptPair } from '../contract/scrutineering.ts';
import type { PlateSize } from './ballastProblem.ts';

/** An authority with its id; those set aside are left out. */
export interface KeptAuthority {
  readonly id: string;
  readonly authority: Authority;
}

/** The authorities as they were told last, in the order in which they were first told. */
export const authoritiesKept = (kept: readonly KeptOf<'authority'>[]): readonly KeptAuthority[] =>
  [...new Map(kept.map((record) => [record.subject, record])).values()].flatMap(
    ({ subject, authority, isAside }) => (isAside ? [] : [{ id: subject, authority }]),
  );

/** The pairs of each authority as they were told last. Those set aside stay and are marked. */
export const pairsKept = (
  kept: readonly KeptOf<'pair'>[],
): ReadonlyMap<string, readonly { readonly pair: KeptPair; readonly isAside: boolean }[]> => {
  const newest = new Map(kept.map((record) => [record.pair.id, record]));
  return Map.groupBy(newest.values(), ({ subject }) => subject);
};

/** The plates owned, as each size was told last, the lightest first. */
export const platesKept = (kept: readonly KeptOf<'plates'>[]): readonly PlateSize[] =>
  [...new Map(kept.map(({ subject, size }) => [subject, size])).values()].toSorted(
    (a, b) => a.mass - b.mass,
  );

/** What nothing is known of yet. The wished probability is common practice, no source. */
export const newAuthority = (name: string): Authority => ({
  name,
  equipment: [],
  reads: { seatMass: null, fuelMass: null, tyres: null },
  wished: 0.99,
  ballast: { most: null, mostPlates: null, notAt: [], fixing: '' },
});
