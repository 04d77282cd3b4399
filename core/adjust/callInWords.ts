import { CORNER_NAMES } from '../corners.ts';
import type { Adjuster } from './adjuster.ts';
import type { Call } from './call.ts';
import { turnsInWords } from './turnsInWords.ts';

/** The way a call goes, by the sign of its steps. */
export const way = (steps: number): string => (steps > 0 ? 'up' : 'down');

/** A call as it is called out: "right front up ¾ turn". */
export const callInWords = (
  { corner, steps }: Pick<Call, 'corner' | 'steps'>,
  adjuster: Adjuster,
): string => `${CORNER_NAMES[corner]} ${way(steps)} ${turnsInWords(steps, adjuster)}`;
