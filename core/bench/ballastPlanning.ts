import type { BallastShown } from '../contract/scrutineering.ts';
import type { BallastEnd, BallastPlan } from '../scrutineering/ballastPlan.ts';
import type { BallastProblem } from '../scrutineering/ballastProblem.ts';
import type { BallastPort } from './ports.ts';

/** The one planning of ballast that is at work, or the last one. */
export interface BallastPlanning {
  /** Begins; what was at work is given up. */
  begin(problem: BallastProblem): void;
  /** Ends it; settles when nothing of it is left. The best so far stays. */
  cancel(): Promise<void>;
  /** As screens are told; null where nothing was planned in this world. */
  shown(): BallastShown | null;
}

interface Run {
  readonly id: string;
  readonly problem: BallastProblem;
  readonly isPractice: boolean;
  best: BallastPlan | null;
  others: readonly BallastPlan[];
  standing: BallastShown['standing'];
}

const standingOf = (end: BallastEnd): BallastShown['standing'] => {
  switch (end.kind) {
    case 'plan':
      return { is: 'planned' };
    case 'no plan':
      return { is: 'no plan', inTheWay: end.inTheWay, together: end.together };
    case 'not found':
      return { is: 'not found' };
    case 'cancelled':
      return { is: 'cancelled' };
    case 'refused':
      return { is: 'failed', why: end.why.join(' ') };
    case 'failed':
      return { is: 'failed', why: end.why };
  }
};

export const createBallastPlanning = ({
  port,
  newId,
  isPractice,
  changed,
}: {
  readonly port: BallastPort;
  readonly newId: () => string;
  readonly isPractice: () => boolean;
  readonly changed: () => void;
}): BallastPlanning => {
  let run: Run | null = null;
  let end: () => Promise<void> = async () => {};

  const begin = (problem: BallastProblem): void => {
    void end();
    const own: Run = {
      id: newId(),
      problem,
      isPractice: isPractice(),
      best: null,
      others: [],
      standing: { is: 'searching' },
    };
    run = own;
    end = port.solve(problem, {
      better: (plan) => {
        own.best = plan;
        changed();
      },
      ended: (result) => {
        if (result.kind === 'plan') {
          own.best = result.best;
          own.others = result.others;
        }
        own.standing = standingOf(result);
        changed();
      },
    });
  };

  return {
    begin,
    cancel: () => end(),
    shown: () => {
      if (!run || run.isPractice !== isPractice()) return null;
      const { id, problem, best, others, standing } = run;
      return { id, problem, best, others, standing };
    },
  };
};
