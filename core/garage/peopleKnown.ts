import type { KeptOf } from '../contract/kept.ts';
import type { Entry } from '../sheet/carRecord.ts';
import type { SetUpSheet } from '../sheet/setUpSheet.ts';

/** Who did something, as it was typed, and how often. */
export interface Person {
  readonly name: string;
  readonly readings: number;
  readonly works: number;
  /** Versions of sheets written. */
  readonly sheets: number;
  readonly releases: number;
  readonly lowerings: number;
}

const NOBODY = { readings: 0, works: 0, sheets: 0, releases: 0, lowerings: 0 };

/**
 * The roles and letters that stand in the records, in the order of the alphabet: a name once typed is
 * known, and nothing has to be kept of it beside the records themselves. Where nobody was named there is
 * nobody.
 */
export const peopleKnown = (kept: {
  readonly entries: readonly Entry[];
  readonly sheets: readonly SetUpSheet[];
  readonly lowerings: readonly KeptOf<'lowering'>[];
}): readonly Person[] => {
  const people = new Map<string, Person>();
  const did = (who: string, what: keyof typeof NOBODY): void => {
    const name = who.trim();
    if (name === '') return;
    const before = people.get(name) ?? { name, ...NOBODY };
    people.set(name, { ...before, [what]: before[what] + 1 });
  };
  for (const entry of kept.entries) {
    if (entry.is === 'reading') did(entry.who, 'readings');
    if (entry.is === 'work') did(entry.who, 'works');
  }
  for (const { who, released } of kept.sheets) {
    did(who, 'sheets');
    if (released) did(released.who, 'releases');
  }
  for (const { person } of kept.lowerings) did(person, 'lowerings');
  return [...people.values()].toSorted((a, b) => (a.name < b.name ? -1 : 1));
};
