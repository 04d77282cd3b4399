import { closeSync, fsyncSync, lstatSync, openSync, readSync } from 'node:fs';
import { BUSY_MS, type Connect, type Database } from './database.ts';
import { saysDamaged } from './inspectFile.ts';
import { newestVersion } from './migrate.ts';
import { schemaOf, schemaOfVersion } from './schema.ts';
import { errorCode } from './storeFault.ts';
import { RECORDS_FILE } from './storeFiles.ts';

/** What a copy of the records is found to be. */
export interface BackupFound {
  readonly state: 'sound' | 'damaged' | 'newer';
  readonly why: string | null;
  readonly captures: number | null;
  readonly records: number | null;
}

/** Of each table the number of its rows, and place and id of the last: equal for equal records. */
export type Census = Readonly<
  Record<string, { readonly count: number; readonly seq: number; readonly last: string }>
>;

/** The tables of a database, by name. */
export const tablesOf = (db: Database, schema = 'main'): readonly string[] =>
  db
    .prepare<{ name: string }>(
      `SELECT name FROM ${schema}.sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name`,
    )
    .all()
    .map(({ name }) => name);

/** The columns of a table in their order, those of its primary key marked. */
export const columnsOf = (
  db: Database,
  table: string,
): readonly { readonly name: string; readonly pk: number }[] =>
  db
    .prepare<{ name: string; pk: number }>('SELECT name, pk FROM pragma_table_info(@table)')
    .all({ table });

export const censusOf = (db: Database): Census =>
  Object.fromEntries(
    tablesOf(db).map((table) => {
      const count = db.prepare<{ n: number }>(`SELECT count(*) AS n FROM ${table}`).get()?.n ?? 0;
      const last = columnsOf(db, table).some(({ name }) => name === 'seq')
        ? db
            .prepare<{ seq: number; id: string }>(
              `SELECT seq, id FROM ${table} ORDER BY seq DESC LIMIT 1`,
            )
            .get()
        : undefined;
      return [table, { count, seq: last?.seq ?? 0, last: last?.id ?? '' }];
    }),
  );

export const isSameCensus = (a: Census, b: Census): boolean =>
  JSON.stringify(a) === JSON.stringify(b);

/**
 * Whether a copy can be of the records at a moment between two censuses of theirs. They are only added, so
 * no table may have less than before or more than after, and its last row must be theirs of that place.
 */
export const isCensusBetween = (
  records: Database,
  {
    before,
    copy,
    after,
  }: { readonly before: Census; readonly copy: Census; readonly after: Census },
): boolean =>
  Object.keys(copy).length === Object.keys(before).length &&
  Object.entries(before).every(([table, least]) => {
    const its = copy[table];
    if (!its || its.count < least.count || its.count > (after[table]?.count ?? 0)) return false;
    if (its.seq === 0) return its.last === '';
    return (
      records
        .prepare<{ id: string }>(`SELECT id FROM ${table} WHERE seq = @seq`)
        .get({ seq: its.seq })?.id === its.last
    );
  });

const found = (state: BackupFound['state'], why: string | null = null): BackupFound => ({
  state,
  why,
  captures: null,
  records: null,
});

/** Bytes 18 and 19 of a file with a write-ahead log are 2: https://www.sqlite.org/fileformat.html 1.3. */
const hasLog = (path: string): boolean => {
  const head = Buffer.alloc(20);
  const file = openSync(path, 'r');
  try {
    return readSync(file, head, 0, 20, 0) === 20 && head[18] === 2;
  } finally {
    closeSync(file);
  }
};

/** What is wrong with an open copy; null where nothing is. `isWhole` reads every page and every key. */
const wrongWith = (
  db: Database,
  {
    bytes,
    isWhole,
    connect,
  }: { readonly bytes: number; readonly isWhole: boolean; readonly connect: Connect },
): string | null => {
  const say = (pragma: string): unknown => db.pragma(pragma, { simple: true });
  if (Number(say('application_id')) !== RECORDS_FILE.applicationId)
    return 'it is another program’s database';
  const version = Number(say('user_version'));
  if (version < 1) return 'it was never begun';
  if (Number(say('page_count')) * Number(say('page_size')) !== bytes)
    return 'a part of it is missing';
  if (!isWhole) return null;
  if (schemaOf(db) !== schemaOfVersion(RECORDS_FILE, version, connect))
    return 'its tables are not those of Millpond';
  const integrity = String(say('integrity_check(1)'));
  if (integrity !== 'ok') return integrity.replaceAll('\n', ' ');
  const orphan = say('foreign_key_check');
  return typeof orphan === 'string' ? `a record of ${orphan} names one that is not there` : null;
};

/**
 * Looks at a copy without changing it. Not whole: its head, its length and how much is in it. Whole:
 * every page, index and reference. Throws on what is no property of the content: a lock, a failing disk.
 */
export const lookAtBackup = (path: string, isWhole: boolean, connect: Connect): BackupFound => {
  const { size } = lstatSync(path);
  if (size === 0) return found('damaged', 'the file is empty');
  // A copy never has a log; what has one belongs to a running program or was not closed.
  if (hasLog(path)) return isWhole ? found('damaged', 'its log is missing') : found('sound');
  let db: Database | null = null;
  try {
    db = connect({ path, readonly: true, mustExist: true, busyMs: BUSY_MS });
    const version = Number(db.pragma('user_version', { simple: true }));
    const isOurs =
      Number(db.pragma('application_id', { simple: true })) === RECORDS_FILE.applicationId;
    if (isOurs && version > newestVersion(RECORDS_FILE.migrations))
      return found('newer', `version ${version}`);
    const why = wrongWith(db, { bytes: size, isWhole, connect });
    if (why !== null) return found('damaged', why);
    const census = censusOf(db);
    return {
      state: 'sound',
      why: null,
      captures: census['captures']?.count ?? 0,
      records: Object.values(census).reduce((sum, { count }) => sum + count, 0),
    };
  } catch (error) {
    if (saysDamaged(errorCode(error)))
      return found('damaged', error instanceof Error ? error.message : '');
    throw error;
  } finally {
    db?.close();
  }
};

/** Waits until the file is on the disk. */
export const syncFile = (path: string): void => {
  const file = openSync(path, 'r+');
  try {
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
};
