import { statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { readBackupName } from '../../core/bench/backupName.ts';
import type { BackupMade, BackupOutcome } from '../../core/bench/backupPort.ts';
import type { BackupShown, JoinedReport } from '../../core/contract/backups.ts';
import { lookAtBackup } from './backupFile.ts';
import {
  backupFailure,
  backupNames,
  backupPath,
  folderForCopies,
  freeBytes,
  realFolder,
} from './backupFolder.ts';
import { makeBackup, type MakeBackup } from './backupMake.ts';
import type { Connect } from './database.ts';
import { joinRecords } from './joinRecords.ts';
import { fetchBackup, removeDatabase } from './restoreFetch.ts';
import { prepareRestore } from './restorePrepare.ts';
import { RECORDS_FILE } from './storeFiles.ts';

/** What is done beside the bench's own thread: reading and writing whole databases takes seconds. */
export type BackupTask =
  | { readonly do: 'look'; readonly dataFolder: string; readonly folder: string }
  | ({ readonly do: 'make' } & MakeBackup)
  | { readonly do: 'list'; readonly dataFolder: string; readonly folder: string }
  | {
      readonly do: 'check';
      readonly dataFolder: string;
      readonly folder: string;
      readonly name: string;
    }
  | {
      readonly do: 'restore' | 'join';
      readonly dataFolder: string;
      readonly folder: string;
      readonly name: string;
      readonly coming: string;
      readonly id: string;
      readonly wallAt: number;
    };

/** A copy with the time its file was last written: the same file is not read through twice. */
export type BackupListed = BackupShown & { readonly writtenAt: number };

export type BackupDone =
  | { readonly is: 'looked'; readonly free: number }
  | ({ readonly is: 'made' } & BackupMade)
  | { readonly is: 'listed'; readonly copies: readonly BackupListed[] }
  | { readonly is: 'prepared'; readonly captures: number; readonly records: number }
  | { readonly is: 'joined'; readonly report: JoinedReport };

const listed = (folder: string, name: string, isWhole: boolean, connect: Connect): BackupListed => {
  const path = join(folder, name);
  const { size, mtimeMs } = statSync(path);
  const read = readBackupName(name);
  const { state, ...found } = lookAtBackup(path, isWhole, connect);
  return {
    name,
    at: read?.at ?? null,
    machine: read?.machine ?? null,
    bytes: size,
    state: state === 'sound' ? (isWhole ? 'checked' : 'looked at') : state,
    ...found,
    writtenAt: mtimeMs,
  };
};

const listOf = (folder: string, dataFolder: string, connect: Connect): readonly BackupListed[] => {
  const real = realFolder(folder);
  const names = [...backupNames(real)];
  // Another computer's data folder: its own database can be taken too.
  const database = (): string => backupPath(real, RECORDS_FILE.name, dataFolder);
  try {
    database();
    names.push(RECORDS_FILE.name);
  } catch {
    // None, or our own.
  }
  return names.map((name) => listed(real, name, false, connect));
};

const work = (task: BackupTask, connect: Connect): BackupDone => {
  const { dataFolder } = task;
  const present = join(dataFolder, RECORDS_FILE.name);
  switch (task.do) {
    case 'look':
      return { is: 'looked', free: freeBytes(folderForCopies(task.folder, dataFolder)) };
    case 'make':
      return { is: 'made', ...makeBackup(task, connect) };
    case 'list':
      return { is: 'listed', copies: listOf(task.folder, dataFolder, connect) };
    case 'check': {
      const path = backupPath(task.folder, task.name, dataFolder);
      return { is: 'listed', copies: [listed(dirname(path), task.name, true, connect)] };
    }
    case 'restore': {
      const from = backupPath(task.folder, task.name, dataFolder);
      const found = prepareRestore({ from, present, ...task }, connect);
      return { is: 'prepared', captures: found.captures ?? 0, records: found.records ?? 0 };
    }
    case 'join': {
      const there = `${task.coming}.there`;
      try {
        fetchBackup(backupPath(task.folder, task.name, dataFolder), there, connect);
        const into = task.coming;
        return {
          is: 'joined',
          report: joinRecords({ here: present, there, into, wallAt: task.wallAt }, connect),
        };
      } finally {
        removeDatabase(there);
      }
    }
  }
};

/** Does one task; what goes wrong is an answer, never a throw. */
export const doBackupTask = (task: BackupTask, connect: Connect): BackupOutcome<BackupDone> => {
  try {
    return { ok: true, ...work(task, connect) };
  } catch (error) {
    return backupFailure(error);
  }
};
