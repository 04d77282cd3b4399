import type { Connect, Database } from './database.ts';
import { migrate } from './migrate.ts';
import type { StoreFile } from './storeFiles.ts';

/** Tables, indexes and triggers as they are written in the file. */
export const schemaOf = (db: Database): string =>
  JSON.stringify(
    db.prepare('SELECT type, name, tbl_name, sql FROM sqlite_schema ORDER BY type, name').all(),
  );

/** The schema that every file of a version has: a trigger or view of somebody else’s is none of ours. */
export const schemaOfVersion = (file: StoreFile, version: number, connect: Connect): string => {
  const db = connect({ path: ':memory:', readonly: false, mustExist: false, busyMs: 0 });
  try {
    migrate(
      db,
      file.migrations.filter((step) => step.version <= version),
    );
    return schemaOf(db);
  } finally {
    db.close();
  }
};
