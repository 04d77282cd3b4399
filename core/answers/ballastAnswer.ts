import type { BallastShown } from '../contract/scrutineering.ts';
import { valueText } from '../format/valueShown.ts';
import { STEP, type BallastRank } from '../scrutineering/ballastWorth.ts';
import type { InTheWay } from '../scrutineering/ballastPlan.ts';
import type { MassUnit } from '../units.ts';
import { listed, type Answer } from './answer.ts';

const platesText = (count: number): string => (count === 1 ? '1 plate' : `${count} plates`);

/** A limit in the way with how much it is missed by at the nearest: mass, load on that axle or side, or plates. */
const missedText = ({ limit, by, unit }: InTheWay, massUnit: MassUnit): string =>
  `${limit}, missed by ${
    unit === 'kg'
      ? valueText({ kind: 'mass', unit: massUnit }, by, 0.01)
      : platesText(Math.ceil(by))
  }`;

/** What has come of planning ballast: plan, proof or gap, or what is in the way. */
export const ballastAnswer = (
  { best, standing }: Pick<BallastShown, 'best' | 'standing'>,
  massUnit: MassUnit,
): Answer => {
  const mass = (kg: number): string => valueText({ kind: 'mass', unit: massUnit }, kg, 0.01);
  const say = (about: string, tone: Answer['tone'], ...parts: readonly string[]): Answer => ({
    about,
    tone,
    text: parts.filter(Boolean).join(' '),
  });
  const plan =
    best === null
      ? ''
      : best.worth.plates === 0
        ? 'No ballast is needed.'
        : `${mass(best.worth.grams / 1000)} in ${platesText(best.worth.plates)}.`;
  const gap = (bound: BallastRank | null): string =>
    bound === null
      ? 'How much better a plan can be is not known yet.'
      : `No plan is better than ${mass((bound.steps * STEP) / 1000)} in ${platesText(bound.plates)}.`;

  switch (standing.is) {
    case 'searching':
      if (!best) return say('searching', 'wait', 'Looking for a plan.');
      return best.isProved
        ? say('proved', 'wait', plan, 'Proved the best; looking for the next best ones.')
        : say('searching, has one', 'wait', `So far: ${plan}`, gap(best.bound));
    case 'planned':
      return best?.isProved
        ? say('planned', 'calm', plan, 'Proved: none is lighter, or as light in fewer plates.')
        : say('planned, gap', 'calm', plan, best ? `Not proved. ${gap(best.bound)}` : '');
    case 'no plan': {
      const { inTheWay, together } = standing;
      if (inTheWay.length === 0)
        return say(
          'no plan',
          'alarm',
          'No plan keeps every limit. Which one is in the way was not found in time.',
        );
      const names = inTheWay.map((each) => missedText(each, massUnit));
      return say(
        'no plan',
        'alarm',
        'No plan keeps every limit.',
        together
          ? `No single limit is in the way, these are together: ${listed(names)}.`
          : inTheWay.length === 1
            ? `In the way: ${listed(names)}.`
            : `Without any one of these there is a plan: ${listed(names)}.`,
      );
    }
    case 'not found':
      return say(
        'not found',
        'wait',
        'Neither a plan nor a proof that there is none was found in time. Widen a band, or free a place.',
      );
    case 'cancelled':
      return best
        ? say(
            'cancelled',
            'wait',
            `Ended early. Best so far: ${plan}`,
            best.isProved ? '' : gap(best.bound),
          )
        : say('cancelled', 'wait', 'Ended before a plan was found.');
    case 'failed':
      return say(
        'failed',
        'alarm',
        `The solver stopped: ${standing.why}.`,
        best ? `Best so far: ${plan}` : '',
      );
  }
};
