import { parentPort, workerData } from 'node:worker_threads';
import { doBackupTask, type BackupTask } from './backupTask.ts';
import { connect } from './open.ts';

/** Entry of the worker that copies: one task, handed in as its data, then it ends. */

parentPort?.postMessage(doBackupTask(workerData as BackupTask, connect));
