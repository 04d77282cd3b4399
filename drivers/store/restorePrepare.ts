import { BUSY_MS, type Connect, type Database } from './database.ts';
import { syncFile, type BackupFound } from './backupFile.ts';
import { configure } from './openFile.ts';
import { fetchBackup } from './restoreFetch.ts';
import { RECORDS_FILE } from './storeFiles.ts';

export interface PrepareRestore {
  /** The copy that is to come, the records that are in place, and the file to make ready. */
  readonly from: string;
  readonly present: string;
  readonly coming: string;
  /** Id and wall-clock label of the settings that are carried over. */
  readonly id: string;
  readonly wallAt: number;
}

const NEWEST = 'SELECT settings FROM settings ORDER BY seq DESC LIMIT 1';

const newestSettings = (db: Database): string | null =>
  db.prepare<{ settings: string }>(NEWEST).get()?.settings ?? null;

/**
 * Makes a file that can take the records' place: the copy, read through, with the settings of this
 * computer told again as the newest, so that an old copy does not take the folder for copies away.
 */
export const prepareRestore = (
  { from, present, coming, id, wallAt }: PrepareRestore,
  connect: Connect,
): BackupFound => {
  const found = fetchBackup(from, coming, connect);
  const here = connect({ path: present, readonly: true, mustExist: true, busyMs: BUSY_MS });
  const db = connect({ path: coming, readonly: false, mustExist: true, busyMs: BUSY_MS });
  try {
    configure(db, RECORDS_FILE);
    const settings = newestSettings(here);
    if (settings !== null && settings !== newestSettings(db))
      db.prepare('INSERT INTO settings (id, added_at, settings) VALUES (@id, @at, @settings)').run({
        id,
        at: wallAt,
        settings,
      });
  } finally {
    db.close();
    here.close();
  }
  syncFile(coming);
  return found;
};
