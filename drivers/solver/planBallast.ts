import { ballastModel, looseModel } from '../../core/scrutineering/ballastModel.ts';
import type { BallastPlan, BallastResult, InTheWay } from '../../core/scrutineering/ballastPlan.ts';
import {
  UNSEEN,
  type BallastCounts,
  type BallastProblem,
} from '../../core/scrutineering/ballastProblem.ts';
import { compareRank, worthOf, type BallastRank } from '../../core/scrutineering/ballastWorth.ts';
import { ballastLimits, type BallastLimit } from '../../core/scrutineering/ballastLimits.ts';
import { firstBallastPlan } from '../../core/scrutineering/firstBallastPlan.ts';
import type { Solved, Solver } from './highs.ts';

/** What is asked. */
export interface BallastTask {
  readonly problem: BallastProblem;
  /** From the start to the end, proof or not. */
  readonly seconds: number;
  /** How many of the next best plans are wanted beside the best one. */
  readonly others: number;
}

/** Time for each of the looks at what is in the way, seconds. */
const LOOK = 1;

/**
 * The whole search: a first plan at once, then the solver's, then the next best ones; or, where there is no
 * plan, which limit is in the way. Every better plan goes to `better` as it is found. Blocks.
 */
export const planBallast = async (
  { problem, seconds, others }: BallastTask,
  {
    now,
    loadSolver,
    better,
  }: {
    /** Monotonic seconds. */
    readonly now: () => number;
    readonly loadSolver: () => Promise<Solver>;
    readonly better: (plan: BallastPlan) => void;
  },
): Promise<BallastResult> => {
  const deadline = now() + seconds;
  const first = firstBallastPlan(problem);
  const planOf = (
    counts: BallastCounts,
    { bound, isProved }: Pick<BallastPlan, 'bound' | 'isProved'>,
  ): BallastPlan => ({ counts, worth: worthOf(problem, counts), isProved, bound });
  if (first) better(planOf(first, { bound: null, isProved: false }));
  const solver = await loadSolver();

  const next = (
    not: readonly BallastCounts[],
    start: BallastCounts | null,
    say: (plan: BallastPlan) => void,
  ): { readonly end: Solved['end']; readonly plan: BallastPlan | null } => {
    const written = ballastModel(problem, not);
    const boundOf = (cost: number): BallastRank | null =>
      Number.isFinite(cost) ? written.bound(cost) : null;
    const solved = solver.solve(written.model, {
      seconds: deadline - now(),
      start: start && written.solution(start),
      better: (solution, bound) =>
        say(planOf(written.counts(solution), { bound: boundOf(bound), isProved: false })),
    });
    const counts = solved.solution ? written.counts(solved.solution) : start;
    return {
      end: solved.end,
      plan:
        counts &&
        planOf(counts, { bound: boundOf(solved.bound), isProved: solved.end === 'proved' }),
    };
  };

  let held = first ? worthOf(problem, first) : null;
  const best = next([], first, (plan) => {
    if (held && compareRank(plan.worth, held) >= 0) return;
    held = plan.worth;
    better(plan);
  });
  if (best.end === 'no solution')
    return { kind: 'no plan', ...inTheWay(problem, { solver, left: () => deadline - now() }) };
  if (!best.plan) return { kind: 'not found' };
  better(best.plan);

  const found: BallastPlan[] = [];
  while (found.length < others && deadline > now()) {
    const other = next(
      [best.plan, ...found].map(({ counts }) => counts),
      null,
      () => undefined,
    );
    if (!other.plan) break;
    found.push(other.plan);
  }
  return { kind: 'plan', best: best.plan, others: found };
};

const inTheWay = (
  problem: BallastProblem,
  { solver, left }: { readonly solver: Solver; readonly left: () => number },
): { readonly inTheWay: readonly InTheWay[]; readonly together: boolean } => {
  const limits = ballastLimits(problem);
  const loosen = (loose: readonly BallastLimit[]): readonly InTheWay[] => {
    if (left() <= 0) return [];
    const { model, by } = looseModel(problem, limits, loose);
    const { solution } = solver.solve(model, { seconds: Math.min(LOOK, left()), start: null });
    const missed = solution ? by(solution) : [];
    return loose
      .map(({ name, unit }, i) => ({ limit: name, unit, by: missed[i] ?? 0 }))
      .filter((found) => found.by > UNSEEN);
  };
  const alone = limits.flatMap((limit) => loosen([limit]));
  if (alone.length > 0) return { inTheWay: alone, together: false };
  return { inTheWay: loosen(limits), together: true };
};
