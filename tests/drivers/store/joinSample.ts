import { join } from 'node:path';
import type { JoinedReport } from '../../../core/contract/backups.ts';
import type { SqlValue } from '../../../drivers/store/database.ts';
import { joinRecords } from '../../../drivers/store/joinRecords.ts';
import { joinTables } from '../../../drivers/store/joinTables.ts';
import { connect } from '../../../drivers/store/open.ts';
import { openFile } from '../../../drivers/store/openFile.ts';
import { RECORDS_FILE } from '../../../drivers/store/storeFiles.ts';
import { idOf, WALL } from './sampleRecords.ts';

/** Small databases to be joined, and what they hold said without order. */

/** Record `n` as one computer has it; two that say different things of one id differ in `says`. */
export interface Small {
  readonly n: number;
  readonly says: string;
}

/** A database of such records, in the order given; each has met every pad by itself. */
export const smallDatabase = (dir: string, name: string, records: readonly Small[]): string => {
  const path = join(dir, `${name}.db`);
  const db = openFile(path, RECORDS_FILE, { absent: true, connect });
  const run = (sql: string, values: Record<string, SqlValue>): unknown =>
    db.prepare(sql).run(values);
  const space = 0x9000 + 0x100 * name.codePointAt(0)!;
  db.immediately(() => {
    for (const { n, says } of records) {
      const id = idOf(n);
      run(`INSERT INTO pads (id, added_at, serial) VALUES (@id, @n, @serial)`, {
        id: idOf(space + n),
        n: space,
        serial: `pad-${n}`,
      });
      run(
        `INSERT INTO kept (id, added_at, kind, subject, practice, body) VALUES (@id, @n, 'gauge', 's', @practice, @body)`,
        { id, n, practice: n % 2, body: JSON.stringify({ says }) },
      );
      run(`INSERT INTO cars (id, added_at, car_id, car) VALUES (@id, @n, @car, @body)`, {
        id,
        n,
        car: `car-${n % 3}`,
        body: JSON.stringify({ says }),
      });
      run(
        `INSERT INTO sessions (id, added_at, name, begun_at, practice) VALUES (@id, @n, 's', 0, 0)`,
        {
          id,
          n,
        },
      );
    }
  });
  db.close();
  return path;
};

const content = (row: Readonly<Record<string, SqlValue>>): string =>
  JSON.stringify(row, (_key, value: unknown) =>
    value instanceof Uint8Array ? { hex: Buffer.from(value).toString('hex') } : value,
  );

/** Everything that a database says, those rows among it that are kept beside others. */
export const factsOf = (path: string): ReadonlySet<string> => {
  const db = connect({ path, readonly: true, mustExist: true, busyMs: 0 });
  try {
    const facts = new Set<string>();
    for (const table of joinTables(db)) {
      if (table.order === 'only here') continue;
      const listed = table.name === 'pads' ? 'serial' : table.columns.join(', ');
      for (const row of db
        .prepare<Record<string, SqlValue>>(`SELECT ${listed} FROM ${table.name}`)
        .all()) {
        if (table.name === 'kept' && row['kind'] === 'conflict') {
          const beside = JSON.parse(String(row['body'])) as { table: string; content: string };
          facts.add(`${beside.table} ${beside.content}`);
        } else facts.add(`${table.name} ${content(row)}`);
      }
    }
    return facts;
  } finally {
    db.close();
  }
};

/** The ids of a table in the order in which it counts them. */
export const orderOf = (path: string, table: string): readonly string[] => {
  const db = connect({ path, readonly: true, mustExist: true, busyMs: 0 });
  try {
    return db
      .prepare<{ id: string }>(`SELECT id FROM ${table} ORDER BY seq`)
      .all()
      .map(({ id }) => id);
  } finally {
    db.close();
  }
};

let made = 0;

/** Joins `there` to `here`: what would be in place afterwards, and what was said. */
export const joined = (
  dir: string,
  here: string,
  there: string,
): { readonly path: string; readonly report: JoinedReport } => {
  const into = join(dir, `joined-${(made += 1)}.db`);
  const report = joinRecords({ here, there, into, wallAt: WALL + 1e12 }, connect);
  const isNew = report.added.length + report.conflicts.length > 0;
  return { path: isNew ? into : here, report };
};
