import { existsSync, readdirSync, renameSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { backupName, readBackupName } from '../../core/bench/backupName.ts';
import type { BackupMade } from '../../core/bench/backupPort.ts';
import { backupsNotKept } from '../../core/bench/backupsKept.ts';
import {
  censusOf,
  isCensusBetween,
  isSameCensus,
  lookAtBackup,
  syncFile,
  type Census,
} from './backupFile.ts';
import { BackupError, backupNames, folderForCopies, mustFit } from './backupFolder.ts';
import { BUSY_MS, type Connect, type Database } from './database.ts';
import { syncFolder } from './openFile.ts';
import { COMPANIONS, RECORDS_FILE } from './storeFiles.ts';

export interface MakeBackup {
  readonly dataFolder: string;
  readonly folder: string;
  readonly machine: string;
  readonly wallAt: number;
}

const UNFINISHED = '.unfinished';

const removeFile = (path: string): void => {
  for (const companion of ['', ...COMPANIONS]) rmSync(`${path}${companion}`, { force: true });
};

/** What a copy that was stopped midway left behind. */
const removeUnfinished = (folder: string, machine: string): void => {
  for (const name of readdirSync(folder)) {
    const [whole = '', rest] = name.split(UNFINISHED);
    if (rest !== undefined && readBackupName(whole)?.machine === machine)
      rmSync(join(folder, name), { force: true });
  }
};

const withDatabase = <T>(path: string, connect: Connect, work: (db: Database) => T): T => {
  const db = connect({ path, readonly: true, mustExist: true, busyMs: BUSY_MS });
  try {
    return work(db);
  } finally {
    db.close();
  }
};

/** Compares a file with what it is to hold, and reads it through. */
const isWholeCopy = (path: string, wanted: Census, connect: Connect): boolean =>
  // First what is quick: a copy that lacks the newest records need not be read.
  lookAtBackup(path, false, connect).state === 'sound' &&
  isSameCensus(withDatabase(path, connect, censusOf), wanted) &&
  lookAtBackup(path, true, connect).state === 'sound';

/** Writes the records as they are at one moment, while they may go on growing, and reads that back. */
const writeCopy = (source: string, into: string, connect: Connect): boolean =>
  withDatabase(source, connect, (records) => {
    removeFile(into);
    const before = censusOf(records);
    records.prepare('VACUUM INTO @into').run({ into });
    const after = censusOf(records);
    syncFile(into);
    if (lookAtBackup(into, true, connect).state !== 'sound') return false;
    const copy = withDatabase(into, connect, censusOf);
    return isCensusBetween(records, { before, copy, after });
  });

const freeName = (folder: string, at: number, machine: string): string => {
  for (let again = 1; ; again += 1) {
    const name = backupName({ at, machine }, again);
    if (!existsSync(join(folder, name))) return name;
  }
};

/**
 * Copies the records into a folder: under another name until the copy is on the disk, was opened again,
 * read through and found equal to the records. Then copies of this computer are removed as the rule has
 * it. Where the newest copy holds the same already it is read through instead. Throws.
 */
export const makeBackup = (
  { dataFolder, folder, machine, wallAt }: MakeBackup,
  connect: Connect,
): BackupMade => {
  const into = folderForCopies(folder, dataFolder);
  const source = join(dataFolder, RECORDS_FILE.name);
  removeUnfinished(into, machine);

  const own = backupNames(into).filter((name) => readBackupName(name)?.machine === machine);
  const newest = own[0];
  const now = withDatabase(source, connect, censusOf);
  if (newest !== undefined && isWholeCopy(join(into, newest), now, connect))
    return { name: newest, at: readBackupName(newest)?.at ?? wallAt, isNew: false };

  mustFit(into, statSync(source).size);
  const name = freeName(into, wallAt, machine);
  const unfinished = join(into, `${name}${UNFINISHED}`);
  try {
    if (!writeCopy(source, unfinished, connect))
      throw new BackupError('failed', 'the copy does not read back as it was written');
    renameSync(unfinished, join(into, name));
    syncFolder(into);
  } catch (error) {
    try {
      removeFile(unfinished);
    } catch {
      // The disk that failed the copy may refuse this too: its name says that it is not whole.
    }
    throw error;
  }
  for (const old of backupsNotKept(backupNames(into), { machine, wallAt }))
    rmSync(join(into, old), { force: true });
  return { name, at: readBackupName(name)?.at ?? wallAt, isNew: true };
};
