import { measured, type Measured } from '../measured.ts';
import { effectiveDof } from '../uncertainty/combine.ts';
import { studentT } from './studentT.ts';

export interface TotalCheck {
  /** Total less what was expected, in their unit. */
  readonly difference: Measured;
  /**
   * Something presses or something was put on, something lifts or was taken off, neither by as much as
   * matters, or the two are not known well enough to say.
   */
  readonly verdict: 'heavier' | 'lighter' | 'as expected' | 'cannot tell';
}

/**
 * Holds the total against what the car should weigh. A steady hand on the car is a settled load, and so is
 * one that lifts: no look at how still the loads are can show it, the total alone can.
 *
 * Heavier or lighter where the 95 % interval of the difference excludes zero and the difference is at least
 * `smallest` (above zero); as expected where its 90 % interval lies within ± that (two one-sided
 * tests at 5 %: D. J. Schuirmann, J. Pharmacokinet. Biopharm. 15 (1987) 657); else it cannot be told.
 * The expected total is a measurement of its own, of the same car in the same state: both in kilogram, or
 * both in newton at one place. The uncertainties should hold the zero and span that do not cancel.
 */
export const checkTotal = (
  total: Measured,
  { expected, smallest }: { readonly expected: Measured; readonly smallest: number },
): TotalCheck => {
  if (!(smallest > 0)) throw new RangeError(`not a difference that matters: ${smallest}`);
  const difference = measured(
    total.value - expected.value,
    Math.hypot(total.u, expected.u),
    Math.max(1, effectiveDof([total, expected])),
  );
  const { value, u, dof } = difference;
  const size = Math.abs(value);
  if (size >= smallest && size > u * studentT(0.05, dof))
    return { difference, verdict: value > 0 ? 'heavier' : 'lighter' };
  const isWithin = size + u * studentT(0.1, dof) <= smallest;
  return { difference, verdict: isWithin ? 'as expected' : 'cannot tell' };
};
