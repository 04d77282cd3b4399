import { closeSync, fsyncSync, openSync, renameSync, rmSync } from 'node:fs';
import { dirname } from 'node:path';
import { BUSY_MS, type Connect, type Database } from './database.ts';
import { migrate } from './migrate.ts';
import { COMPANIONS, type StoreFile } from './storeFiles.ts';

/** Makes a rename outlast a power cut. Windows has no such call for folders and needs none. */
export const syncFolder = (path: string): void => {
  if (process.platform === 'win32') return;
  const folder = openSync(path, 'r');
  try {
    fsyncSync(folder);
  } finally {
    closeSync(folder);
  }
};

/** What belongs to a connection and not to the file: stated each time it is opened. */
export const configure = (db: Database, file: StoreFile): void => {
  const set = (pragma: string): unknown => db.pragma(pragma, { simple: true });
  set('foreign_keys = ON');
  // So that INSERT OR REPLACE meets the triggers that refuse a delete.
  set('recursive_triggers = ON');
  // This build of SQLite would choose NORMAL for a write-ahead log if nothing were said.
  set(`synchronous = ${file.synchronous}`);
  // macOS: fsync leaves the drive's cache alone; this one does not. Nothing elsewhere.
  set(`fullfsync = ${file.synchronous === 'FULL' ? 'ON' : 'OFF'}`);
  set(`wal_autocheckpoint = ${file.checkpointPages}`);
  set(`journal_size_limit = ${file.checkpointPages * file.pageSize}`);
};

/**
 * Begins a new database under another name and gives it its own when it is whole: a crash leaves
 * either nothing or all of it.
 */
const beginFile = (path: string, file: StoreFile, connect: Connect): void => {
  const unfinished = `${path}.unfinished`;
  for (const companion of ['', ...COMPANIONS]) rmSync(`${unfinished}${companion}`, { force: true });
  const db = connect({ path: unfinished, readonly: false, mustExist: false, busyMs: BUSY_MS });
  try {
    db.pragma(`page_size = ${file.pageSize}`, { simple: true });
    db.pragma(`application_id = ${file.applicationId}`, { simple: true });
    const mode = db.pragma('journal_mode = WAL', { simple: true });
    if (mode !== 'wal') throw new Error(`no write-ahead log on this disk (${String(mode)})`);
    configure(db, { ...file, synchronous: 'FULL' });
    migrate(db, file.migrations);
  } finally {
    // The last connection copies its log into the file and removes it.
    db.close();
  }
  renameSync(unfinished, path);
  syncFolder(dirname(path));
};

/** Opens a database that was found sound or absent, brought to the newest version. Throws. */
export const openFile = (
  path: string,
  file: StoreFile,
  { absent, connect }: { readonly absent: boolean; readonly connect: Connect },
): Database => {
  if (absent) beginFile(path, file, connect);
  const db = connect({ path, readonly: false, mustExist: true, busyMs: BUSY_MS });
  try {
    // A copy that was put in place has none.
    db.pragma('journal_mode = WAL', { simple: true });
    configure(db, file);
    migrate(db, file.migrations);
    return db;
  } catch (error) {
    db.close();
    throw error;
  }
};
