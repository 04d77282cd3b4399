import type { Measured } from '../measured.ts';
import { twoSidedQuantile, upperTail } from './studentTails.ts';

export type Verdict = 'same' | 'moved' | 'cannot tell';

/** Of each of the two one-sided tests, so that the interval that goes with them holds 90 %. */
const TEST_LEVEL = 0.05;
/** Of *moved*, over all independent items together. */
export const FAMILY_LEVEL = 0.05;
/**
 * Limit over standard uncertainty of the change from which an unchanged car is found *same* four times
 * in five: 1.645 for the test and 1.28 for the scatter of the change itself, as the design rounds it.
 */
const LEAST_RATIO = 2.9;

/** Quantile of the test and of the scatter of the change itself. */
const reach = (dof: number): number =>
  twoSidedQuantile(2 * TEST_LEVEL, dof) + twoSidedQuantile(0.2, dof);
const REACH_KNOWN = reach(Infinity);

/** The same ratio where the uncertainty itself is known from few readings only. */
export const leastRatio = (dof: number): number => (LEAST_RATIO * reach(dof)) / REACH_KNOWN;

/** Smallest limit that can be judged: below it we would say more than we can see. */
export const finestLimit = ({ u, dof }: Pick<Measured, 'u' | 'dof'>): number => leastRatio(dof) * u;

/** Interval that holds the true change with 90 %, in the unit of the change. */
export const changeInterval = ({ value, u, dof }: Measured): readonly [number, number] => {
  const half = twoSidedQuantile(2 * TEST_LEVEL, dof) * u;
  return [value - half, value + half];
};

/**
 * Probability of so small a change if the car had in truth moved by just `limit`, up or down: the larger
 * of the two one-sided tests (D. J. Schuirmann, J. Pharmacokin. Biopharm. 15 (1987) 657). At most 5 %
 * exactly where the 90 % interval lies inside ±limit.
 */
export const equivalenceTail = ({ value, u, dof }: Measured, limit: number): number =>
  upperTail((limit - Math.abs(value)) / u, dof);

/**
 * One item: *same* where two one-sided tests put the change inside ±limit, *moved* where it is beyond
 * the limit and `isReal`, which is whether its interval excludes zero at the family's level. `limit` is
 * above zero and not finer than `finestLimit`.
 */
export const verdict = (change: Measured, limit: number, isReal: boolean): Verdict => {
  if (equivalenceTail(change, limit) <= TEST_LEVEL) return 'same';
  return isReal && Math.abs(change.value) > limit ? 'moved' : 'cannot tell';
};
