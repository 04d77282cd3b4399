import { closeSync, openSync, readSync, statSync } from 'node:fs';
import { BUSY_MS, type Connect, type Database } from './database.ts';
import { newestVersion } from './migrate.ts';
import { schemaOf, schemaOfVersion } from './schema.ts';
import { errorCode } from './storeFault.ts';
import type { StoreFile } from './storeFiles.ts';

/** What stands in the data folder under a database's name. */
export type FileFound =
  | { readonly is: 'absent' }
  | { readonly is: 'sound' }
  | { readonly is: 'newer'; readonly version: number }
  | { readonly is: 'damaged'; readonly why: string };

/** First bytes of every SQLite 3 file: https://www.sqlite.org/fileformat.html section 1.3. */
const MAGIC = 'SQLite format 3\0';

const sizeOf = (path: string): number | null => {
  const found = statSync(path, { throwIfNoEntry: false });
  return found ? found.size : null;
};

const beginsWithMagic = (path: string): boolean => {
  const head = Buffer.alloc(MAGIC.length);
  const file = openSync(path, 'r');
  try {
    return (
      readSync(file, head, 0, head.length, 0) === head.length && head.toString('latin1') === MAGIC
    );
  } finally {
    closeSync(file);
  }
};

const damaged = (why: string): FileFound => ({ is: 'damaged', why });

const judge = (db: Database, file: StoreFile, connect: Connect): FileFound => {
  const mark = Number(db.pragma('application_id', { simple: true }));
  const version = Number(db.pragma('user_version', { simple: true }));
  if (mark !== file.applicationId) return damaged('it is another program’s database');
  // Its own version may write what this one cannot judge: nothing else of the file is looked at.
  if (version > newestVersion(file.migrations)) return { is: 'newer', version };
  if (version < 1) return damaged(`version ${version} never was`);
  // A bit of a check or a trigger that was hit would else show at the first write only.
  if (schemaOf(db) !== schemaOfVersion(file, version, connect))
    return damaged('its tables are not those of Millpond');
  // Not the quick check: a row that its index has lost would be missing without a word.
  const check = String(db.pragma('integrity_check(1)', { simple: true }));
  return check === 'ok' ? { is: 'sound' } : damaged(check.replaceAll('\n', ' '));
};

/** Codes by which SQLite says that the file's content, not the disk or a lock, is the trouble. */
export const saysDamaged = (code: string): boolean =>
  code === 'SQLITE_NOTADB' || code === 'SQLITE_ERROR' || code.startsWith('SQLITE_CORRUPT');

/**
 * Looks at a database file and changes none of its bytes: read only, so that a damaged file can be
 * set aside as it was found, write-ahead log and all. Throws on what is no property of the content:
 * a lock, a permission, a failing disk.
 */
export const inspectFile = (path: string, file: StoreFile, connect: Connect): FileFound => {
  const size = sizeOf(path);
  if (!size) {
    // SQLite deletes the log of an empty database; here it may hold the only copy of a capture.
    if (sizeOf(`${path}-wal`)) return damaged('the file is empty and its log is not');
    return size === null ? { is: 'absent' } : damaged('the file is empty');
  }
  if (!beginsWithMagic(path)) return damaged('not a database');
  let db: Database | null = null;
  try {
    db = connect({ path, readonly: true, mustExist: true, busyMs: BUSY_MS });
    return judge(db, file, connect);
  } catch (error) {
    if (saysDamaged(errorCode(error))) return damaged(error instanceof Error ? error.message : '');
    throw error;
  } finally {
    db?.close();
  }
};
