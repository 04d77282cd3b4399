import { createHash } from 'node:crypto';
import type { KeptOf } from '../../core/contract/kept.ts';
import { uuidV7 } from '../../core/uuidV7.ts';
import type { Database, SqlValue } from './database.ts';
import type { JoinTable } from './joinTables.ts';

type Row = Readonly<Record<string, SqlValue>>;

const onKey = ({ key }: JoinTable): string =>
  key.map((column) => `here.${column} = there.${column}`).join(' AND ');

/** BLOBs as hexadecimal digits: all of the row, so that it can be told again. */
const contentOf = (row: Row): string =>
  JSON.stringify(row, (_key, value: unknown) =>
    value instanceof Uint8Array ? { hex: Buffer.from(value).toString('hex') } : value,
  );

/** Milliseconds of a UUIDv7 (RFC 9562, section 5.7). */
const timeOf = (id: string): number => Number.parseInt(`${id.slice(0, 8)}${id.slice(9, 13)}`, 16);

/**
 * The record that keeps a row of another computer beside the one of here that has its id and says
 * something else. Its own id comes of the content: the same row is kept once, whoever joins it when.
 */
const besideOf = (table: string, id: string, content: string): KeptOf<'conflict'> => {
  const digest = createHash('sha256').update(`${table}\n${id}\n${content}`).digest();
  const at = timeOf(id);
  return {
    kind: 'conflict',
    id: uuidV7(at, digest.subarray(0, 10)),
    subject: id,
    at,
    practice: false,
    table,
    content,
  };
};

/** Rows of one key that say different things, as records to be kept. */
export const conflictsOf = (db: Database, table: JoinTable): readonly KeptOf<'conflict'>[] => {
  const differ = table.compared
    .map((column) => `here.${column} IS NOT there.${column}`)
    .join(' OR ');
  return db
    .prepare<Row>(
      `SELECT ${table.columns.map((column) => `there.${column}`).join(', ')}
       FROM there.${table.name} AS there JOIN here.${table.name} AS here ON ${onKey(table)}
       WHERE ${differ}`,
    )
    .all()
    .map((row) => besideOf(table.name, String(row[table.key[0] ?? 'id']), contentOf(row)));
};
