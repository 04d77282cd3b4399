import { constants, copyFileSync, linkSync, renameSync } from 'node:fs';
import { dirname } from 'node:path';
import { syncFile } from './backupFile.ts';
import { BackupError } from './backupFolder.ts';
import type { Database } from './database.ts';
import { syncFolder } from './openFile.ts';

/** The same file under a second name; a copy where the disk has no such thing. */
const keepAs = (path: string, aside: string): void => {
  try {
    linkSync(path, aside);
  } catch {
    copyFileSync(path, aside, constants.COPYFILE_EXCL);
    syncFile(aside);
  }
};

/**
 * Puts a prepared file in the records' place, in one step of the disk: what was there is kept whole
 * under the name `aside`. Afterwards the database is closed. Where it throws before that, nothing has
 * changed; a power cut leaves either the old or the new.
 */
export const replaceRecords = (
  db: Database,
  {
    path,
    coming,
    aside,
  }: { readonly path: string; readonly coming: string; readonly aside: string },
): void => {
  // Without its log the file is all there is: an old log must never meet a new file.
  const mode = db.pragma('journal_mode = DELETE', { simple: true });
  if (mode !== 'delete') throw new BackupError('in use', `the log stays (${String(mode)})`);
  try {
    keepAs(path, aside);
  } catch (error) {
    db.pragma('journal_mode = WAL', { simple: true });
    throw error;
  }
  db.close();
  renameSync(coming, path);
  syncFolder(dirname(path));
};
