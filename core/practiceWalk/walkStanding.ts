import { listed } from '../answers/answer.ts';
import type { KeptOf } from '../contract/kept.ts';
import type { PracticeWalk } from '../contract/practiceWalk.ts';
import { WALK_STEPS, type WalkStep } from './walkSteps.ts';

/** The newest walk: when it and its step at hand began, ms, and as it was last told. */
export interface WalkKept {
  readonly id: string;
  readonly begunAt: number;
  readonly stepBegunAt: number;
  readonly walk: PracticeWalk;
}

/** Of walks as they are kept, oldest first; null where nobody has walked yet. */
export const newestWalk = (kept: readonly KeptOf<'practice walk'>[]): WalkKept | null => {
  const last = kept.at(-1);
  if (!last) return null;
  const own = kept.filter(({ subject }) => subject === last.subject);
  const since = (tellings: typeof own): number => tellings[0]?.at ?? last.at;
  return {
    id: last.subject,
    begunAt: since(own),
    stepBegunAt: since(own.filter(({ walk }) => walk.steps.length === last.walk.steps.length)),
    walk: last.walk,
  };
};

/** The step at hand with its number from 1; null after the last. */
export const stepAtHand = ({
  steps,
}: PracticeWalk): { readonly no: number; readonly step: WalkStep } | null => {
  const step = WALK_STEPS[steps.length];
  return step ? { no: steps.length + 1, step } : null;
};

/** The walk one step on. */
export const withStep = (walk: PracticeWalk, how: PracticeWalk['steps'][number]): PracticeWalk => ({
  ...walk,
  steps: [...walk.steps, how],
});

/** What was done and what was skipped, in words for the end. */
export const walkInWords = ({ steps }: PracticeWalk): string => {
  const of = (how: PracticeWalk['steps'][number]): readonly WalkStep[] =>
    WALK_STEPS.filter((_, index) => steps[index] === how);
  const done = of('done').map(({ past }) => past);
  const skipped = of('skipped').map(({ name }) => name.toLowerCase());
  const first = done.length === 0 ? 'You looked round.' : `You ${listed(done)}.`;
  return skipped.length === 0 ? first : `${first} Skipped: ${listed(skipped)}.`;
};
