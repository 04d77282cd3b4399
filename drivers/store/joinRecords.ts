import { statSync } from 'node:fs';
import { dirname } from 'node:path';
import type { JoinedReport } from '../../core/contract/backups.ts';
import type { KeptOf } from '../../core/contract/kept.ts';
import { uuidV7 } from '../../core/uuidV7.ts';
import { lookAtBackup, syncFile } from './backupFile.ts';
import { BackupError, mustFit } from './backupFolder.ts';
import { BUSY_MS, type Connect, type Database } from './database.ts';
import { conflictsOf } from './joinConflicts.ts';
import { joinTables, type JoinTable } from './joinTables.ts';
import { migrate } from './migrate.ts';
import { removeDatabase } from './restoreFetch.ts';
import { RECORDS_FILE } from './storeFiles.ts';

export interface JoinRecords {
  /** The records in place; only read. */
  readonly here: string;
  /** A copy of the others', sound and of the newest version; only read. */
  readonly there: string;
  /** The file that is made: the records of both. */
  readonly into: string;
  /** Wall-clock label of now, ms. */
  readonly wallAt: number;
}

const isOnlyThere = ({ name, key }: Pick<JoinTable, 'name' | 'key'>): string =>
  `NOT EXISTS (SELECT 1 FROM here.${name} AS h WHERE ${key.map((k) => `h.${k} = t.${k}`).join(' AND ')})`;

const ORDERS = {
  'by time': 'made, is_there, place',
  'here last': 'is_there DESC, place',
  'only here': 'place',
} as const;

/**
 * Copies the rows of both, each once. When a row was made is told by its id, but no earlier than those
 * its computer took before it: so a clock that was set back does not put a computer's own rows in
 * another order.
 */
const fill = (db: Database, { name, columns, hasSeq, order, key }: JoinTable): void => {
  const listed = columns.join(', ');
  const seen = hasSeq
    ? 'max(id) OVER (ORDER BY seq) AS made, seq AS place'
    : `0 AS made, 0 AS place`;
  const rows = (side: 'here' | 'there', isThere: number): string =>
    `SELECT ${listed}, ${isThere} AS is_there, ${seen} FROM ${side}.${name}`;
  const there = `SELECT * FROM (${rows('there', 1)}) AS t WHERE ${isOnlyThere({ name, key })}`;
  const both = order === 'only here' ? rows('here', 0) : `${rows('here', 0)} UNION ALL ${there}`;
  const numbered = hasSeq ? `row_number() OVER (ORDER BY ${ORDERS[order]}), ` : '';
  db.exec(
    `INSERT INTO main.${name} (${hasSeq ? 'seq, ' : ''}${listed}) SELECT ${numbered}${listed} FROM (${both})`,
  );
};

const numberOf = (
  db: Database,
  sql: string,
  values: Readonly<Record<string, string>> = {},
): number => db.prepare<{ n: number }>(`SELECT count(*) AS n FROM ${sql}`).get(values)?.n ?? 0;

/** The first id that could be made after a time. */
const firstIdAfter = (wallAt: number): string => uuidV7(wallAt + 1, new Uint8Array(10));

const keepBeside = (db: Database, record: KeptOf<'conflict'>): boolean => {
  if (numberOf(db, 'main.kept WHERE id = @id', { id: record.id }) > 0) return false;
  db.prepare(
    `INSERT INTO main.kept (id, added_at, kind, subject, practice, body)
     VALUES (@id, @at, @kind, @subject, 0, @body)`,
  ).run({
    id: record.id,
    at: record.at,
    kind: record.kind,
    subject: record.subject,
    body: JSON.stringify(record),
  });
  return true;
};

const joinInto = (db: Database, wallAt: number): JoinedReport => {
  const tables = joinTables(db);
  const joined = tables.filter(({ order }) => order !== 'only here');
  for (const table of tables) fill(db, table);
  const counts = joined.map((table) => ({
    table,
    all: numberOf(db, `there.${table.name}`),
    count: numberOf(db, `there.${table.name} AS t WHERE ${isOnlyThere(table)}`),
  }));
  const found = joined.flatMap((table) => conflictsOf(db, table));
  const conflicts = found.filter((record) => keepBeside(db, record));
  const sum = (numbers: readonly number[]): number => numbers.reduce((a, b) => a + b, 0);
  return {
    added: counts.flatMap(({ table, count }) => (count > 0 ? [{ table: table.name, count }] : [])),
    same: sum(counts.map(({ all, count }) => all - count)) - found.length,
    conflicts: conflicts.map(({ table, subject }) => ({ table, id: subject })),
    ahead: sum(
      joined
        .filter(({ hasSeq }) => hasSeq)
        .map((table) =>
          numberOf(db, `there.${table.name} AS t WHERE ${isOnlyThere(table)} AND t.id >= @first`, {
            first: firstIdAfter(wallAt),
          }),
        ),
    ),
  };
};

/**
 * Makes a database that holds the records of two. Each record is there once, whichever way round they
 * are joined and how often; where one id says two things, what is here counts and the other row is kept
 * beside it. Rows are put in the order of their making, so that the newest of both counts; what a computer is set to is not joined. Where nothing would be added no file is
 * left. Throws.
 */
export const joinRecords = (
  { here, there, into, wallAt }: JoinRecords,
  connect: Connect,
): JoinedReport => {
  removeDatabase(into);
  mustFit(dirname(into), statSync(here).size + statSync(there).size);
  const db = connect({ path: into, readonly: false, mustExist: false, busyMs: BUSY_MS });
  let report: JoinedReport;
  try {
    const set = (pragma: string): unknown => db.pragma(pragma, { simple: true });
    set(`page_size = ${RECORDS_FILE.pageSize}`);
    set(`application_id = ${RECORDS_FILE.applicationId}`);
    // A file that is thrown away when it is not finished needs no journal of its own.
    set('journal_mode = MEMORY');
    set('synchronous = OFF');
    // References are checked when all tables are filled.
    set('foreign_keys = OFF');
    migrate(db, RECORDS_FILE.migrations);
    db.prepare('ATTACH @here AS here').run({ here });
    db.prepare('ATTACH @there AS there').run({ there });
    // Deferred: taken at once, the write lock would be taken on the records in place as well.
    db.exec('BEGIN');
    report = joinInto(db, wallAt);
    db.exec('COMMIT');
  } finally {
    db.close();
  }
  if (report.added.length === 0 && report.conflicts.length === 0) {
    removeDatabase(into);
    return report;
  }
  syncFile(into);
  const looked = lookAtBackup(into, true, connect);
  if (looked.state !== 'sound') throw new BackupError('failed', looked.why ?? '');
  return report;
};
