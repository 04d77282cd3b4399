import type { BallastPort } from '../../core/bench/ports.ts';
import { solveBallast } from './solveBallast.ts';

/** A proof or a stated gap comes by then; most proofs take less than a second. */
const SECONDS = 10;
/** Next best plans shown beside the best one. */
const OTHERS = 3;

/** The bench's planner: each plan in a worker of its own. */
export const ballastPort: BallastPort = {
  solve: (problem, { better, ended }) => {
    const { end, cancel } = solveBallast({ problem, seconds: SECONDS, others: OTHERS }, better);
    const told = end.then(ended);
    return () => {
      cancel();
      return told;
    };
  },
};
