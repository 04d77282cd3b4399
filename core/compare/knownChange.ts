import type { Measured } from '../measured.ts';

/** Numbers by the id of an item; an item that is not named is not affected. */
export type ByItem = Readonly<Record<string, number>>;

/** A change that was made or is known of, and what it must have done to the items. */
export interface KnownChange {
  /** As said on the screen: "RF down ½ turn", "12.4 kg of fuel burnt". */
  readonly name: string;
  /** Expected change of each measured item, after less before, in its unit. */
  readonly effect: ByItem;
  /** What is not known of it: one pattern for each independent source, at its standard uncertainty. */
  readonly doubts: readonly ByItem[];
}

/** A known change that is `size` times the effect of one unit of it. */
export const sizedChange = (name: string, perUnit: ByItem, size: Measured): KnownChange => {
  const times = (by: number): ByItem =>
    Object.fromEntries(Object.entries(perUnit).map(([id, effect]) => [id, by * effect]));
  return { name, effect: times(size.value), doubts: size.u > 0 ? [times(size.u)] : [] };
};

/** Something of the car's state that is not the same in the two records. */
export interface StateDifference {
  /** As said on the screen: "Bars on before, off after". */
  readonly what: string;
  /** What it does, when that is known: then it is taken out and said. */
  readonly correction: KnownChange | null;
  /** Items that it touches: without a correction they are not compared. */
  readonly items: readonly string[];
}
