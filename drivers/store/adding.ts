import type { Database, SqlNamed } from './database.ts';

/** What every repository is handed to write with. */
export interface Adding {
  readonly db: Database;
  /** The columns every record begins with: a new UUIDv7 and the wall-clock label of now. */
  stamp(): { readonly id: string; readonly added_at: number };
}

/** Makes an INSERT of the named columns; the values are given by the same names. */
export const insert = (
  db: Database,
  table: string,
  columns: string,
): ((values: SqlNamed) => void) => {
  const names = columns.split(/\s+/).filter((name) => name !== '');
  const slots = names.map((name) => `@${name}`);
  const statement = db.prepare(
    `INSERT INTO ${table} (${names.join(', ')}) VALUES (${slots.join(', ')})`,
  );
  return (values) => void statement.run(values);
};
