import { parentPort, workerData } from 'node:worker_threads';
import { planBallast, type BallastTask } from './planBallast.ts';
import type { WorkerReport } from './solveBallast.ts';

/** Entry of the solver's worker: one task, handed in as its data, then it ends. */

const say = (report: WorkerReport): void => parentPort?.postMessage(report);

say({
  kind: 'result',
  result: await planBallast(workerData as BallastTask, {
    now: () => performance.now() / 1000,
    // Late: the first plan does not wait for it.
    loadSolver: async () => (await import('./highs.ts')).createSolver(),
    better: (plan) => say({ kind: 'better', plan }),
  }),
});
