import { Worker } from 'node:worker_threads';
import type {
  BallastEnd,
  BallastPlan,
  BallastResult,
} from '../../core/scrutineering/ballastPlan.ts';
import { checkBallast } from '../../core/scrutineering/ballastProblem.ts';
import type { BallastTask } from './planBallast.ts';

/** What the worker says. */
export type WorkerReport =
  | { readonly kind: 'better'; readonly plan: BallastPlan }
  | { readonly kind: 'result'; readonly result: BallastResult };

export interface BallastSolving {
  /** Settles once, and never rejects. */
  readonly end: Promise<BallastEnd>;
  /** Ends the worker at once; `end` settles as cancelled unless it already has. */
  readonly cancel: () => void;
}

/** Source beside source, bundle beside bundle. */
const ENTRY = new URL(
  import.meta.url.endsWith('.ts') ? './solverWorker.ts' : './solverWorker.js',
  import.meta.url,
);

/**
 * Plans ballast in a worker thread, so that the bench's own thread never waits. Every better plan is handed to
 * `better` as soon as it is found, the first one after some tens of milliseconds.
 */
export const solveBallast = (
  task: BallastTask,
  better: (plan: BallastPlan) => void,
): BallastSolving => {
  const why = checkBallast(task.problem);
  if (why.length > 0)
    return { end: Promise.resolve({ kind: 'refused', why }), cancel: () => undefined };
  const worker = new Worker(ENTRY, { workerData: task });
  const { promise, resolve } = Promise.withResolvers<BallastEnd>();
  let isOver = false;
  const finish = (end: BallastEnd): void => {
    if (isOver) return;
    isOver = true;
    void worker.terminate().then(() => resolve(end));
  };
  worker.on('message', (report: WorkerReport) => {
    if (isOver) return;
    if (report.kind === 'better') better(report.plan);
    else finish(report.result);
  });
  worker.on('error', (error) => finish({ kind: 'failed', why: String(error) }));
  worker.on('exit', () => finish({ kind: 'failed', why: 'the solver ended without a result' }));
  return { end: promise, cancel: () => finish({ kind: 'cancelled' }) };
};
