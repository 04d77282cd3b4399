import { onTestFinished } from 'vitest';
import type { BackupPort } from '../../../core/bench/backupPort.ts';
import { createBackups } from '../../../drivers/store/backups.ts';
import type { BackupRunning } from '../../../drivers/store/backupRun.ts';
import { doBackupTask, type BackupTask } from '../../../drivers/store/backupTask.ts';
import type { Connect } from '../../../drivers/store/database.ts';
import { connect } from '../../../drivers/store/open.ts';
import type { Store } from '../../../drivers/store/store.ts';
import {
  idMaker,
  openedStore,
  prepare,
  sampleCapture,
  sampleWindow,
  WALL,
} from './sampleRecords.ts';
import { temporaryFolder } from './temporaryFolder.ts';

export const HOUR = 3_600_000;

/** A database with captures 1 to `captures`, a folder for its copies, and what makes them. */
export interface Copied {
  readonly dir: string;
  readonly stick: string;
  readonly store: Store;
  readonly copies: BackupPort;
  readonly capture: (n: number) => void;
  /** How often a new start was asked for. */
  readonly starts: () => number;
}

/** Does a task at once, in this thread. */
export const atOnce =
  (using: Connect = connect) =>
  (task: BackupTask): BackupRunning => ({
    end: Promise.resolve(doBackupTask(task, using)),
    cancel: () => undefined,
  });

let wall = WALL;

export const copiesOf = (
  store: Store,
  dir: string,
  run?: (task: BackupTask) => BackupRunning,
): { readonly copies: BackupPort; readonly starts: () => number } => {
  let starts = 0;
  if (!store.inPlace) throw new Error('not open');
  const copies = createBackups({
    dataFolder: dir,
    records: store.inPlace,
    machine: 'Pit.local',
    wallClock: () => (wall += HOUR),
    newId: idMaker(50 + (wall - WALL) / HOUR),
    startAgain: () => void (starts += 1),
    ...(run ? { run } : {}),
  });
  return { copies, starts: () => starts };
};

/** `run`: how tasks are done; in a worker, as in the program, where it is left out. */
export const copied = (
  captures = 3,
  run: ((task: BackupTask) => BackupRunning) | undefined = atOnce(),
): Copied => {
  const [dir, stick] = [temporaryFolder(), temporaryFolder()];
  const store = openedStore(dir);
  onTestFinished(() => store.close());
  prepare(store);
  const capture = (n: number): void => {
    const outcome = store.saveCapture(sampleCapture(n), sampleWindow(n));
    if (!outcome.ok) throw new Error(String(outcome.fault.detail));
  };
  for (let n = 1; n <= captures; n += 1) capture(n);
  return { dir, stick, store, capture, ...copiesOf(store, dir, run) };
};

/** The name of a copy that must have been made. */
export const madeIn = async (copies: BackupPort, folder: string): Promise<string> => {
  const made = await copies.make(folder);
  if (!made.ok) throw new Error(`${made.why} ${made.detail}`);
  return made.name;
};
