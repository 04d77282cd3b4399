import { CORNERS, type PerCorner } from '../corners.ts';
import { measured, type Measured } from '../measured.ts';
import { effectiveDof } from '../uncertainty/combine.ts';
import { newton, type Newton } from '../units.ts';
import { studentT } from './studentT.ts';

/** Four settled loads, N, with their covariance, N², row by row in the order of the corners. */
export interface FourLoads {
  readonly corners: PerCorner<Measured<Newton>>;
  readonly covariance: readonly number[];
}

export interface TotalCheck {
  /** Total less what was expected, N. */
  readonly difference: Measured<Newton>;
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
 * `smallest` (N, above zero); as expected where its 90 % interval lies within ± that (two one-sided
 * tests at 5 %: D. J. Schuirmann, J. Pharmacokinet. Biopharm. 15 (1987) 657); else it cannot be told.
 * The expected total is a measurement of its own, of the same car in the same state, in newton at the same
 * place. Its uncertainty and that of the loads should hold zero and span, which do not show in the noise.
 */
export const checkTotal = (
  loads: FourLoads,
  { expected, smallest }: { readonly expected: Measured<Newton>; readonly smallest: number },
): TotalCheck => {
  if (!(smallest > 0)) throw new RangeError(`not a difference that matters: ${smallest}`);
  const four = CORNERS.map((corner) => loads.corners[corner]);
  const total = {
    value: four.reduce((sum, { value }) => sum + value, 0),
    u: Math.sqrt(
      Math.max(
        0,
        loads.covariance.reduce((sum, entry) => sum + entry, 0),
      ),
    ),
    dof: Math.min(...four.map(({ dof }) => dof)),
  };
  const difference = measured(
    newton(total.value - expected.value),
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
