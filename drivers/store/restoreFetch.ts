import { constants, copyFileSync, existsSync, rmSync, statSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { lookAtBackup, type BackupFound } from './backupFile.ts';
import { BackupError, mustFit } from './backupFolder.ts';
import { BUSY_MS, type Connect } from './database.ts';
import { configure } from './openFile.ts';
import { migrate } from './migrate.ts';
import { COMPANIONS, LOCK_FILE, RECORDS_FILE } from './storeFiles.ts';

/** Removes a database and what SQLite puts beside it. */
export const removeDatabase = (path: string): void => {
  for (const companion of ['', ...COMPANIONS]) rmSync(`${path}${companion}`, { force: true });
};

/** A running Millpond holds its lock: what is copied beside it might be half of a change. */
const mustBeFree = (path: string, connect: Connect): void => {
  const lock = join(dirname(path), LOCK_FILE);
  if (!existsSync(lock)) return;
  const db = connect({ path: lock, readonly: true, mustExist: true, busyMs: 0 });
  try {
    db.prepare('SELECT count(*) FROM sqlite_schema').get();
  } finally {
    db.close();
  }
};

/**
 * Brings a copy, or another computer's database with its log, to a file of ours, reads it through and
 * brings it to the newest version. The original is only read. Throws BackupError `damaged` or `newer`.
 */
export const fetchBackup = (from: string, to: string, connect: Connect): BackupFound => {
  const isDatabase = basename(from) === RECORDS_FILE.name;
  if (isDatabase) mustBeFree(from, connect);
  removeDatabase(to);
  mustFit(dirname(to), statSync(from).size);
  copyFileSync(from, to, constants.COPYFILE_EXCL);
  if (isDatabase && existsSync(`${from}-wal`)) copyFileSync(`${from}-wal`, `${to}-wal`);
  const looked = lookAtBackup(to, !isDatabase, connect);
  if (looked.state !== 'sound') throw new BackupError(looked.state, looked.why ?? '');
  if (isDatabase) foldLog(to, connect);
  const found = isDatabase ? lookAtBackup(to, true, connect) : looked;
  if (found.state !== 'sound') throw new BackupError(found.state, found.why ?? '');
  const db = connect({ path: to, readonly: false, mustExist: true, busyMs: BUSY_MS });
  try {
    configure(db, RECORDS_FILE);
    migrate(db, RECORDS_FILE.migrations);
  } finally {
    db.close();
  }
  return found;
};

/** Copies the log into the file, which has none afterwards. */
const foldLog = (path: string, connect: Connect): void => {
  const db = connect({ path, readonly: false, mustExist: true, busyMs: BUSY_MS });
  try {
    const mode = db.pragma('journal_mode = DELETE', { simple: true });
    if (mode !== 'delete') throw new BackupError('failed', `its log stays (${String(mode)})`);
  } finally {
    db.close();
  }
};
