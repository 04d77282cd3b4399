import type { Adjuster, Adjusters } from '../adjust/adjuster.ts';
import { beyondInWords } from '../adjust/beyondInWords.ts';
import type { BeyondTurns } from '../adjust/beyondTurns.ts';
import type { Call, CrewStep } from '../adjust/call.ts';
import { crewSteps } from '../adjust/call.ts';
import { callInWords, way } from '../adjust/callInWords.ts';
import type { Disagreement } from '../adjust/disagreement.ts';
import type { Choice, Left } from '../adjust/plan.ts';
import type { CallProgress } from '../adjust/progress.ts';
import type { AdjustRefusal } from '../adjust/refusal.ts';
import { reasonInWords } from '../adjust/reasonInWords.ts';
import { turnsInWords } from '../adjust/turnsInWords.ts';
import type { CornerTold } from '../adjust/whichCorner.ts';
import { CORNERS, CORNER_NAMES, type Corner } from '../corners.ts';
import { capital } from '../format/capital.ts';
import { HARD_SPACE, fixed } from '../format/number.ts';
import { massIn, type MassUnit } from '../units.ts';
import { listed, type Answer } from './answer.ts';

/** Where the adjusting stands: what the answer is made of. */
export type AdjustSeen =
  | { readonly at: 'not begun' }
  | { readonly at: 'unread' }
  | { readonly at: 'refused'; readonly refusal: AdjustRefusal }
  | {
      readonly at: 'planned';
      readonly choice: Choice;
      readonly adjusters: Adjusters;
      readonly beyond: readonly BeyondTurns[];
      /** Names of the height points, in the order of the targets. */
      readonly points: readonly string[];
    }
  | {
      readonly at: 'turning';
      readonly call: Call;
      readonly adjuster: Adjuster;
      /** Null before the first loads of the call. */
      readonly progress: CallProgress | AdjustRefusal | null;
    }
  | {
      readonly at: 'crew';
      readonly step: Exclude<CrewStep['do'], 'turn'>;
      /** Corners to be turned while the car is up. */
      readonly corners: readonly Corner[];
    }
  | {
      readonly at: 'which corner';
      readonly called: Corner;
      readonly told: CornerTold;
      readonly points: readonly string[];
    }
  | { readonly at: 'disagrees'; readonly disagreement: Disagreement };

/** All calls of a choice in one sentence; after the first, "turn" goes without saying. */
const callsInWords = (choice: Choice, adjusters: Adjusters): string => {
  const parts = crewSteps(choice.steps, adjusters).flatMap((step, index, all) => {
    if (step.do !== 'turn') return [];
    const adjuster = adjusters[step.call.corner];
    if (!adjuster) return [];
    const words = callInWords(step.call, adjuster);
    const isFirst = !all.slice(0, index).some((before) => before.do === 'turn');
    return [isFirst || adjuster.countedIn !== 'turns' ? words : words.replace(/ turns?$/u, '')];
  });
  return capital(parts.join(', then '));
};

/** Why a choice stays out of tolerance, in words. */
export const SHORT_IN_WORDS = {
  physics: 'no turns reach it',
  alone: 'one corner alone cannot',
  steps: 'the steps are too coarse',
  room: 'the adjusters end before',
} as const;

const leftInWords = (
  { kind, corner, point, off }: Left,
  points: readonly string[],
  unit: MassUnit,
): string => {
  const size = Math.abs(off);
  if (kind === 'cross') return `cross ${fixed(size * 100, 2)}${HARD_SPACE}% off`;
  if (kind === 'corner weight')
    return `${corner ? CORNER_NAMES[corner] : 'a corner'} ${fixed(massIn(unit, size), 1)}${HARD_SPACE}${unit} off`;
  return `ride height ${points[point ?? -1] ?? ''} ${fixed(size * 1000, 1)}${HARD_SPACE}mm off`;
};

const planned = (seen: Extract<AdjustSeen, { at: 'planned' }>, unit: MassUnit): Answer => {
  const { choice, adjusters, beyond, points } = seen;
  const turned = CORNERS.filter((corner) => choice.steps[corner] !== 0);
  const cannot = beyond.map((each) => ` ${beyondInWords(each, unit)}`).join('');
  const about = `planned ${turned.join()} ${choice.short ?? ''} ${beyond.map(({ kind }) => kind).join()}`;
  const worst = choice.left.toSorted(
    (a, b) => Math.abs(b.off) / b.tolerance - Math.abs(a.off) / a.tolerance,
  )[0];
  const short =
    choice.short && worst
      ? ` That leaves ${leftInWords(worst, points, unit)}: ${SHORT_IN_WORDS[choice.short]}.`
      : '';
  if (turned.length > 0)
    return {
      about,
      text: `${callsInWords(choice, adjusters)}.${short}${cannot}`,
      tone: short || cannot ? 'wait' : 'calm',
    };
  if (short) return { about, text: `No turn brings it nearer.${short}${cannot}`, tone: 'wait' };
  return {
    about,
    text: `Nothing to turn: ${beyond.length > 0 ? 'what turning can reach' : 'everything'} is within tolerance.${cannot}`,
    tone: cannot ? 'wait' : 'calm',
  };
};

const turning = (seen: Extract<AdjustSeen, { at: 'turning' }>): Answer => {
  const { call, adjuster, progress } = seen;
  const words = callInWords(call, adjuster);
  const about = (what: string): string => `${what} ${call.corner} ${call.steps}`;
  if (!progress) return { about: about('call'), text: `${capital(words)}.`, tone: 'calm' };
  if (!progress.ok) return { about: about(progress.code), text: progress.why, tone: 'alarm' };
  const { stepsPerTurn, countedIn } = adjuster;
  const stepsLeft = Math.round(progress.remaining * stepsPerTurn);
  const left = turnsInWords(stepsLeft, { stepsPerTurn, countedIn });
  const count = progress.resolves ? '' : ' The loads cannot tell a step yet: count the thread.';
  switch (progress.verdict) {
    case 'not begun':
      return { about: about('call'), text: `${capital(words)}.`, tone: 'calm' };
    case 'under way':
      return {
        about: about('under way'),
        text:
          stepsLeft > 0
            ? `${capital(words)}: ${left} to go.${count}`
            : `${capital(words)}: nearly there.${count}`,
        tone: 'wait',
      };
    case 'reached':
      return {
        about: about('reached'),
        text: progress.resolves ? `Reached. Stop: ${words}.` : `About reached: ${words}.${count}`,
        tone: 'calm',
      };
    case 'over':
      return {
        about: about('over'),
        text: `Too far: back ${stepsLeft === 0 ? 'a little' : left} at the ${CORNER_NAMES[call.corner]}.`,
        tone: 'alarm',
      };
    case 'wrong sense': {
      const [own, ...others] = progress.alike;
      const turned = others.map(({ corner, way: to }) => `${CORNER_NAMES[corner]} ${to}`);
      return {
        about: about('wrong sense'),
        text: `Wrong sense. Either the ${CORNER_NAMES[call.corner]} goes ${own?.way ?? ''} instead of ${way(call.steps)}, or it is another corner: ${turned.join(' or ')}. Stop and look.`,
        tone: 'alarm',
      };
    }
  }
};

const CREW = {
  lower: 'Lower the car when all are clear.',
  settle: 'Let it settle: push and lift it, each stroke weaker, then hands off.',
  judge: 'Read the pads and judge: hands off the car.',
} as const;

const whichCornerAnswer = (seen: Extract<AdjustSeen, { at: 'which corner' }>): Answer => {
  const { called, told, points } = seen;
  const name = CORNER_NAMES[called];
  const { chances } = told;
  if (!chances)
    return told.stake > 1
      ? {
          about: `which corner ${called}`,
          text: `The loads went the right way but cannot name the corner. Measure the ride height ${points[told.measure] ?? ''}, or count the thread at the ${name}.`,
          tone: 'wait',
        }
      : {
          about: `any corner ${called}`,
          text: 'The loads went the right way. Which corner it was makes no difference to the ride heights wanted.',
          tone: 'calm',
        };
  const likeliest = CORNERS.toSorted((a, b) => chances[b] - chances[a])[0] as Corner;
  // Nine to one, as a bet people would take; no source.
  if (chances[likeliest] < 0.9)
    return {
      about: `unclear corner ${called}`,
      text: `The ride height does not settle which corner was turned. Count the thread at the ${name}.`,
      tone: 'wait',
    };
  if (likeliest === called)
    return {
      about: `right corner ${called}`,
      text: `It was the ${name}, as called.`,
      tone: 'calm',
    };
  return {
    about: `other corner ${called} ${likeliest}`,
    text: `The ride height says the ${CORNER_NAMES[likeliest]} was turned, not the ${name}. Look at both threads; the next plan starts from what the pads say.`,
    tone: 'alarm',
  };
};

const disagrees = ({ load, rise, reasons }: Disagreement, unit: MassUnit): Answer => {
  const kg = (mass: number): string => `${fixed(massIn(unit, mass), 1)}${HARD_SPACE}${unit}`;
  const mm = (metre: number): string => `${fixed(metre * 1000, 1)}${HARD_SPACE}mm`;
  const heights = rise
    ? `, the ${CORNER_NAMES[rise.corner]} rose by ${mm(rise.seen.value)} where ${mm(rise.expected.value)} was expected`
    : '';
  return {
    about: `disagrees ${reasons.map(({ kind, corner }) => `${kind} ${corner ?? ''}`).join()}`,
    text: `The car answers otherwise than known: ${kg(load.seen.value)} at the left front where ${kg(load.expected.value)} was expected${heights}. ${
      reasons.length === 0
        ? 'None of the known reasons explains it. Settle and read again.'
        : `Likely: ${reasons.map(reasonInWords).join('; or ')}.`
    }`,
    tone: 'alarm',
  };
};

/** What is to be turned? */
export const adjustAnswer = (seen: AdjustSeen, unit: MassUnit): Answer => {
  switch (seen.at) {
    case 'not begun':
      return {
        about: 'not begun',
        text: 'No adjustment is under way. Let the car settle and say what is wanted.',
        tone: 'wait',
      };
    case 'unread':
      return {
        about: 'unread',
        text: 'No settled reading yet. Lower the car and let it settle.',
        tone: 'wait',
      };
    case 'refused':
      return { about: seen.refusal.code, text: seen.refusal.why, tone: 'wait' };
    case 'planned':
      return planned(seen, unit);
    case 'turning':
      return turning(seen);
    case 'crew':
      return {
        about: seen.step,
        text:
          seen.step === 'raise'
            ? `Raise the car when all are clear: the ${listed(seen.corners.map((corner) => CORNER_NAMES[corner]))} cannot be turned under load.`
            : CREW[seen.step],
        tone: 'wait',
      };
    case 'which corner':
      return whichCornerAnswer(seen);
    case 'disagrees':
      return disagrees(seen.disagreement, unit);
  }
};
