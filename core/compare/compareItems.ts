import { measured, type Measured } from '../measured.ts';
import { changeScatter, type JointScatter } from './changeNoise.ts';
import type { ComparisonInput } from './comparisonInput.ts';
import { withDerived } from './derivedScatter.ts';
import { holm } from './holm.ts';
import { independentItems, type Matrix } from './independentItems.ts';
import { comparableItems, select, type NotCompared } from './comparableItems.ts';
import { twoSidedTail } from './studentTails.ts';
import { changeInterval, FAMILY_LEVEL, finestLimit, verdict, type Verdict } from './verdict.ts';

export interface JudgedItem {
  readonly id: string;
  readonly verdict: Verdict;
  readonly before: number;
  readonly after: number;
  /** After less before less what is known of, with its standard uncertainty. */
  readonly change: Measured;
  /** What was taken out: the expected effect of the known changes. */
  readonly takenOut: number;
  /** Limit used: the one asked for, or the finest we can see where that is coarser. */
  readonly limit: number;
  readonly limitAsked: number | null;
  /** Holds the true change with 90 %. */
  readonly interval: readonly [number, number];
  /** Probability of so large a change by chance, adjusted for the family; *moved* needs 5 % or less. */
  readonly tail: number;
  /** Whether it counts in the family, or follows from items that do. */
  readonly independent: boolean;
  /**
   * For *cannot tell*: readings of the car now, in all, that would settle it at this limit if the change
   * stays what it is; null where up to thirty would not, because the earlier record or the patch limits it.
   */
  readonly readings: number | null;
}

/** Independent measured items with their joint covariance: what causes are fitted to. */
export interface JointChange {
  readonly ids: readonly string[];
  readonly change: readonly number[];
  readonly covariance: Matrix;
  /**
   * For use together: items whose scatter was found jointly have one degree of freedom less for each
   * partner, as in Hotelling's test (Ann. Math. Stat. 2 (1931) 360).
   */
  readonly dof: readonly number[];
}

export interface Comparison {
  /** In the order given, measured ones before derived ones. */
  readonly items: readonly JudgedItem[];
  readonly notCompared: readonly NotCompared[];
  /** Size of the family: the rank of the covariance. */
  readonly independent: number;
  /** What was taken out before judging, in words. */
  readonly takenOut: readonly string[];
  readonly joint: JointChange;
}

const MOST_READINGS = 30;

const changeOf = (value: number, scatter: JointScatter, index: number): Measured =>
  measured(
    value,
    Math.sqrt(scatter.covariance[index]?.[index] as number),
    scatter.dof[index] as number,
  );

const limitFor = (asked: number | null, change: Measured): number =>
  Math.max(asked ?? 0, finestLimit(change));

/**
 * Has it changed? Per item, after JCGM 100 for the uncertainty, two one-sided tests for *same*, Holm's
 * family over the independent items for *moved*. An item that follows from others (the total from four
 * corners) does not count in the family again; it is judged at the family's strictest level.
 * Throws RangeError where lists do not belong together: that is the caller's mistake, not a user's.
 */
export const compareItems = (input: ComparisonInput): Comparison => {
  const { items, derived, noise, notCompared, takenOut } = comparableItems(input);
  const slopes = derived.map((item) => item.slopes);
  const scatter = withDerived(changeScatter(noise), slopes);
  const all = [
    ...items,
    ...derived.map((item) => ({
      ...item,
      takenOut: item.slopes.reduce(
        (sum, slope, index) => sum + slope * (items[index]?.takenOut as number),
        0,
      ),
    })),
  ];
  const changes = all.map((item, index) =>
    changeOf(item.after - item.before - item.takenOut, scatter, index),
  );
  const tails = changes.map(({ value, u, dof }) => twoSidedTail(value / u, dof));
  const { kept } = independentItems(scatter.covariance);
  const adjusted = tails.map((tail) => Math.min(1, kept.length * tail));
  holm(kept.map((index) => tails[index] as number)).forEach((tail, place) => {
    adjusted[kept[place] as number] = tail;
  });
  const rejected = kept.filter((index) => (adjusted[index] as number) <= FAMILY_LEVEL).length;

  const later = new Map<number, JointScatter>();
  /** Of one item alone, with so many readings after. */
  const changeAfter = (index: number, n: number): Measured => {
    const then = later.get(n) ?? changeScatter(noise, n);
    later.set(n, then);
    const { value } = changes[index] as Measured;
    const own = slopes[index - items.length];
    return own
      ? changeOf(value, withDerived(then, [own]), items.length)
      : changeOf(value, then, index);
  };
  const readAgain = (index: number, limit: number): number | null => {
    const level = FAMILY_LEVEL / (kept.includes(index) ? kept.length - rejected : kept.length);
    const taken = Math.min(...noise.readings.map(({ after }) => after));
    for (let n = taken + 1; n <= MOST_READINGS; n += 1) {
      const change = changeAfter(index, n);
      const isReal = twoSidedTail(change.value / change.u, change.dof) <= level;
      if (verdict(change, limit, isReal) !== 'cannot tell') return n;
    }
    return null;
  };

  const judged = all.map((item, index): JudgedItem => {
    const change = changes[index] as Measured;
    const limit = limitFor(item.limit, change);
    const told = verdict(change, limit, (adjusted[index] as number) <= FAMILY_LEVEL);
    return {
      id: item.id,
      verdict: told,
      before: item.before,
      after: item.after,
      change,
      takenOut: item.takenOut,
      limit,
      limitAsked: item.limit,
      interval: changeInterval(change),
      tail: adjusted[index] as number,
      independent: kept.includes(index),
      readings: told === 'cannot tell' ? readAgain(index, limit) : null,
    };
  });
  const measuredKept = kept.filter((index) => index < items.length);
  return {
    items: judged,
    notCompared,
    independent: kept.length,
    takenOut,
    joint: {
      ids: measuredKept.map((index) => all[index]?.id as string),
      change: measuredKept.map((index) => changes[index]?.value as number),
      covariance: select(scatter.covariance, measuredKept),
      dof: measuredKept.map((index) => {
        const partners = measuredKept.filter(
          (other) => other !== index && noise.repeat.covariance[index]?.[other] !== 0,
        );
        return Math.max(1, (scatter.dof[index] as number) - partners.length);
      }),
    },
  };
};
