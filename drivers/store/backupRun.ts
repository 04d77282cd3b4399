import { Worker } from 'node:worker_threads';
import type { BackupOutcome } from '../../core/bench/backupPort.ts';
import type { BackupDone, BackupTask } from './backupTask.ts';

export interface BackupRunning {
  /** Settles once, and never rejects. */
  readonly end: Promise<BackupOutcome<BackupDone>>;
  /** Ends the task; `end` settles as ending unless it already has. */
  readonly cancel: () => void;
}

/** Source beside source, bundle beside bundle. */
const ENTRY = new URL(
  import.meta.url.endsWith('.ts') ? './backupWorker.ts' : './backupWorker.js',
  import.meta.url,
);

/** Does a task in a worker thread of its own. */
export const runBackupTask = (task: BackupTask): BackupRunning => {
  const worker = new Worker(ENTRY, { workerData: task });
  const { promise, resolve } = Promise.withResolvers<BackupOutcome<BackupDone>>();
  let isOver = false;
  const finish = (outcome: BackupOutcome<BackupDone>): void => {
    if (isOver) return;
    isOver = true;
    void worker.terminate().then(() => resolve(outcome));
  };
  worker.on('message', (outcome: BackupOutcome<BackupDone>) => finish(outcome));
  worker.on('error', (error) => finish({ ok: false, why: 'failed', detail: String(error) }));
  worker.on('exit', () => finish({ ok: false, why: 'failed', detail: 'it ended without a word' }));
  return { end: promise, cancel: () => finish({ ok: false, why: 'ending', detail: '' }) };
};
