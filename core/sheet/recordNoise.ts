import type { ChangeNoise } from '../compare/changeNoise.ts';
import type { LoweringScatter } from '../compare/repeatabilityLowering.ts';
import { CORNERS } from '../corners.ts';
import type { Item } from './items.ts';
import { itemValue, type ItemValue, type ValueSources } from './itemValue.ts';

/** An item as a record has it. */
export type Read = Extract<ItemValue, { readonly is: 'measured' }>;

/** Reads what a record has of an item, each once; null where it is not measured. */
export const readerOf = (sources: ValueSources): ((id: string) => Read | null) => {
  const known = new Map<string, Read | null>();
  return (id) => {
    const found = known.get(id);
    if (found !== undefined) return found;
    const value = itemValue(id, sources);
    const made = value.is === 'measured' ? value : null;
    known.set(id, made);
    return made;
  };
};

/** Variance of one reading of an item: the larger that the two records show. */
const oneReading = (before: Read | null, after: Read | null): { u2: number; dof: number } => {
  const each = [before, after].flatMap((value) =>
    value ? [{ u2: value.scatter.u ** 2 * value.count, dof: value.scatter.dof }] : [],
  );
  const [first, second] = each;
  if (!first) return { u2: Number.NaN, dof: 1 };
  return second && second.u2 > first.u2 ? second : first;
};

/** Variance that two readings do not share: errors of gauges that only one of them was read with. */
const unsharedOf = (before: Read | null, after: Read | null): number => {
  if (!before || !after) return 0;
  const gauges = new Set([...before.shared.keys(), ...after.shared.keys()]);
  let sum = 0;
  for (const gauge of gauges) {
    const [one, other] = [before.shared.get(gauge), after.shared.get(gauge)];
    // The same gauge is wrong by the same in both.
    if (!one || !other) sum += (one?.u ?? other?.u ?? 0) ** 2;
  }
  return sum;
};

const weightIndex = (item: Item): number => (item.corner ? CORNERS.indexOf(item.corner) : -1);

/**
 * Scatter of two records' items. `repeat` and `laying` are those of the corner weights, jointly; the
 * other items bring their own with their readings.
 */
export const recordNoise = (
  items: readonly Item[],
  values: readonly { readonly before: Read | null; readonly after: Read | null }[],
  lowered: {
    readonly repeat: LoweringScatter;
    readonly laying: LoweringScatter | null;
    readonly isRelaid: boolean;
  },
): ChangeNoise => {
  const { repeat, laying, isRelaid } = lowered;
  const weights = (scatter: LoweringScatter | null, i: number, j: number): number | null => {
    const [one, other] = [items[i] as Item, items[j] as Item];
    if (one.kind !== 'weight' || other.kind !== 'weight') return null;
    return scatter?.covariance[4 * weightIndex(one) + weightIndex(other)] ?? Number.NaN;
  };
  const single = values.map(({ before, after }) => oneReading(before, after));
  const square = (make: (i: number, j: number) => number) =>
    items.map((_, i) => items.map((_unused, j) => make(i, j)));
  return {
    repeat: {
      covariance: square(
        (i, j) => weights(repeat, i, j) ?? (i === j ? (single[i]?.u2 ?? Number.NaN) : 0),
      ),
      dof: items.map((item, i) => (item.kind === 'weight' ? repeat.dof : (single[i]?.dof ?? 1))),
    },
    laying: isRelaid
      ? {
          covariance: square((i, j) => weights(laying, i, j) ?? 0),
          dof: items.map(() => laying?.dof ?? 1),
        }
      : null,
    unshared: square((i, j) => {
      const at = values[i];
      return i === j && at ? unsharedOf(at.before, at.after) : 0;
    }),
    readings: values.map(({ before, after }) => ({
      before: Math.max(1, before?.count ?? 1),
      after: Math.max(1, after?.count ?? 1),
    })),
  };
};
