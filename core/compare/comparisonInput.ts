import type { ChangeNoise } from './changeNoise.ts';
import type { KnownChange, StateDifference } from './knownChange.ts';

/** One item of two records, in one unit (corner weights in kg, else SI). */
export interface ComparedItem {
  readonly id: string;
  /** Null where the record does not have it. */
  readonly before: number | null;
  readonly after: number | null;
  /** Smallest change worth acting on; null takes the finest that can be seen. */
  readonly limit: number | null;
}

/** An item computed from measured ones: a total, a share, an axle sum, rake. */
export interface DerivedItem extends ComparedItem {
  /** Derivative by each measured item, in their order, at the middle of the two records. */
  readonly slopes: readonly number[];
}

/** Two records, as plain numbers. */
export interface ComparisonInput {
  readonly items: readonly ComparedItem[];
  readonly derived: readonly DerivedItem[];
  /** In the order of `items`; a variance that is not known is NaN or zero. */
  readonly noise: ChangeNoise;
  /** Calls given, fuel burnt, ballast or driver changed between the two: taken out before judging. */
  readonly known: readonly KnownChange[];
  readonly states: readonly StateDifference[];
}
