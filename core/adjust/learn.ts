import { CORNERS, perCorner, type PerCorner } from '../corners.ts';
import { measured, type Measured } from '../measured.ts';
import { incompleteGamma } from '../statistics/incompleteGamma.ts';
import type { AdjustHistory } from './adjustHistory.ts';
import { fitHistory } from './fitHistory.ts';
import { refused, type AdjustRefusal } from './refusal.ts';
import { predictChange, type TurnResponse } from './turnResponse.ts';

/** What a history taught. */
export interface Learnt {
  readonly ok: true;
  readonly response: TurnResponse;
  /**
   * Chance of a misfit as large as the newest reading's while the car is the one that was known
   * before it; 1 for a first reading.
   */
  readonly chance: number;
  /** Ride heights now, by all readings and the response together (`fitHistory`). */
  readonly heights: readonly (Measured | null)[];
}

/** Below this chance a reading disagrees with what was known; the trade's "three in a thousand". */
export const BEYOND_CHANCE = 0.003;

/**
 * The response after a history of turns, from the one before it: Bayesian, all readings together
 * (`fitHistory`), with friction and noise. Pass the response from before the history's first
 * reading, not one that has seen it already. Undoing a call is leaving its reading out.
 */
export const learn = (prior: TurnResponse, history: AdjustHistory): Learnt | AdjustRefusal => {
  const fit = fitHistory(prior, history);
  if (!fit)
    return refused(
      'no response',
      'These readings teach nothing: the loads have no covariance, or no car stands like this. The response stays as it was.',
    );
  const { readings } = history;
  const without =
    readings.length > 1 ? fitHistory(prior, { ...history, readings: readings.slice(0, -1) }) : null;
  // For Gaussian knowledge the squares grow by the newest reading's own misfit, in its doubt.
  const misfit = without ? Math.max(0, fit.squares - without.squares) : 0;
  return {
    ok: true,
    response: { ...prior, logFactors: fit.logFactors, covariance: fit.covariance },
    heights: fit.heights,
    chance: without ? 1 - incompleteGamma(fit.newestCount / 2, misfit / 2) : 1,
  };
};

/** What one turn up does at its own corner. */
export interface PerTurn {
  /** Newton. */
  readonly load: Measured;
  /** Metre, over the wheel. */
  readonly rise: Measured;
}

/** One turn up of each adjuster, with the doubt left; null where no adjuster is. */
export const perTurn = (response: TurnResponse): PerCorner<PerTurn | null> =>
  perCorner((corner, i) => {
    if (response.sheetSeatPerTurn[corner] === null) return null;
    const { change, covariance } = predictChange(
      response,
      perCorner((other) => (other === corner ? 1 : 0)),
    );
    const at = (row: number): Measured =>
      measured(
        change[row] as number,
        Math.sqrt(Math.max(0, covariance[row * 9] as number)),
        Infinity,
      );
    return { load: at(i), rise: at(4 + i) };
  });

/** Found over data sheet for seat per turn and wheel rate: factor and its relative uncertainty. */
export const factorsFound = (
  response: TurnResponse,
): PerCorner<{ readonly seat: Measured; readonly rate: Measured }> => {
  const factor = (i: number): Measured => {
    const value = Math.exp(response.logFactors[i] as number);
    return measured(
      value,
      value * Math.sqrt(response.covariance[i * (CORNERS.length * 2 + 1)] as number),
      Infinity,
    );
  };
  return perCorner((_, i) => ({ seat: factor(i), rate: factor(4 + i) }));
};
