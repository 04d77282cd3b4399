import type { ChangeNoise } from './changeNoise.ts';
import type { ComparedItem, ComparisonInput, DerivedItem } from './comparisonInput.ts';
import type { Matrix } from './independentItems.ts';
import type { KnownChange } from './knownChange.ts';

/** An item that is shown and not judged, and why. */
export interface NotCompared {
  readonly id: string;
  readonly before: number | null;
  readonly after: number | null;
  readonly why: string;
}

type InBoth<T extends ComparedItem> = Omit<T, 'before' | 'after'> & {
  readonly before: number;
  readonly after: number;
};

/** What of two records can be judged. */
export interface Comparable {
  readonly items: readonly (InBoth<ComparedItem> & { readonly takenOut: number })[];
  readonly derived: readonly InBoth<DerivedItem>[];
  /** Of `items`, doubts of what was taken out added. */
  readonly noise: ChangeNoise;
  readonly notCompared: readonly NotCompared[];
  readonly takenOut: readonly string[];
}

/** The rows and columns of these places. */
export const select = (matrix: Matrix, places: readonly number[]): Matrix =>
  places.map((i) => places.map((j) => matrix[i]?.[j] as number));

const isWhole = <T extends ComparedItem>(item: T): item is T & InBoth<T> =>
  item.before !== null && item.after !== null;

const known = (variance: number | undefined): boolean =>
  variance !== undefined && variance > 0 && variance < Infinity;

const NO_LAYING =
  'The patch was laid again in between, and what that adds is not known: lower the car on two layings in the study under Balance, Outing.';
export const NOT_MEASURED = 'Not measured in both records.';
const NO_SCATTER =
  'Its repeatability is not known: measure the unchanged car a few times and it can be judged.';

/**
 * Sets aside what cannot be judged: not in both records, touched by a difference of state that nobody
 * can correct, of unknown repeatability, or made of such an item. Adds up what is to be taken out.
 */
export const comparableItems = (input: ComparisonInput): Comparable => {
  const { items, derived, noise, states } = input;
  const size = items.length;
  if (noise.readings.length !== size || noise.repeat.covariance.length !== size)
    throw new RangeError('the noise is not that of the items');
  if (derived.some(({ slopes }) => slopes.length !== size))
    throw new RangeError('a derived item has one slope for each item');
  const changes: readonly KnownChange[] = [
    ...input.known,
    ...states.flatMap(({ correction }) => correction ?? []),
  ];
  const touched = (id: string): string | null =>
    states.find((state) => state.correction === null && state.items.includes(id))?.what ?? null;

  const whyNot = items.map((item, index): string | null => {
    if (!isWhole(item)) return NOT_MEASURED;
    const state = touched(item.id);
    if (state !== null) return `The car was not in the same state. ${state}`;
    const { repeat, laying, unshared } = noise;
    if (!known(repeat.covariance[index]?.[index])) return NO_SCATTER;
    const isKnown = (part: Matrix | null): boolean =>
      part === null || (part[index]?.[index] as number) >= 0;
    if (!isKnown(laying?.covariance ?? null)) return NO_LAYING;
    return isKnown(unshared) ? null : NO_SCATTER;
  });
  const places = items.flatMap((_, index) => (whyNot[index] === null ? [index] : []));
  const derivedWhy = (item: DerivedItem): string | null => {
    if (!isWhole(item)) return NOT_MEASURED;
    const state = touched(item.id);
    if (state !== null) return `The car was not in the same state. ${state}`;
    const lacking = item.slopes.findIndex((slope, index) => slope !== 0 && whyNot[index] !== null);
    return lacking < 0 ? null : (whyNot[lacking] as string);
  };

  const doubts = changes.flatMap((change) => change.doubts);
  const at = (by: Readonly<Record<string, number>>, index: number): number =>
    by[items[index]?.id ?? ''] ?? 0;
  const unshared = places.map((i) =>
    places.map((j) =>
      doubts.reduce(
        (sum, doubt) => sum + at(doubt, i) * at(doubt, j),
        noise.unshared?.[i]?.[j] ?? 0,
      ),
    ),
  );
  const pick = <T>(list: readonly T[]): readonly T[] => places.map((index) => list[index] as T);
  const { repeat, laying } = noise;
  const aside = (item: ComparedItem, why: string | null): readonly NotCompared[] =>
    why === null ? [] : [{ id: item.id, before: item.before, after: item.after, why }];
  return {
    items: places.flatMap((index) => {
      const item = items[index] as ComparedItem;
      const takenOut = changes.reduce((sum, change) => sum + at(change.effect, index), 0);
      return isWhole(item) ? [{ ...item, takenOut }] : [];
    }),
    derived: derived.flatMap((item) =>
      derivedWhy(item) === null && isWhole(item) ? [{ ...item, slopes: pick(item.slopes) }] : [],
    ),
    noise: {
      repeat: { covariance: select(repeat.covariance, places), dof: pick(repeat.dof) },
      laying: laying && { covariance: select(laying.covariance, places), dof: pick(laying.dof) },
      unshared,
      readings: pick(noise.readings),
    },
    notCompared: [
      ...items.flatMap((item, index) => aside(item, whyNot[index] as string | null)),
      ...derived.flatMap((item) => aside(item, derivedWhy(item))),
    ],
    takenOut: changes.map(({ name }) => name),
  };
};
