/**
 * What the store needs of an SQL database. The library behind it is named in `open.ts` alone, so
 * every other file of the store speaks to this shape.
 */

export type SqlValue = string | number | bigint | Uint8Array | null;

/** Values by the names used in the statement (`@name`). */
export type SqlNamed = Readonly<Record<string, SqlValue>>;

export interface Statement<Row> {
  run(values?: SqlNamed): unknown;
  get(values?: SqlNamed): Row | undefined;
  all(values?: SqlNamed): Row[];
}

export interface Database {
  prepare<Row = unknown>(sql: string): Statement<Row>;
  exec(sql: string): unknown;
  /** The first value of the first row. */
  pragma(sql: string, options: { readonly simple: true }): unknown;
  /** Runs `work` in a transaction that takes the write lock at its beginning; a throw rolls back. */
  immediately<T>(work: () => T): T;
  close(): void;
}

export interface ConnectOptions {
  readonly path: string;
  readonly readonly: boolean;
  /** The file must be there already. */
  readonly mustExist: boolean;
  /** How long a statement waits for another program's lock. The bench stands still meanwhile. */
  readonly busyMs: number;
}

export type Connect = (options: ConnectOptions) => Database;

/** Long enough for a checkpoint of a backup tool, short enough for a bench that must not stall. */
export const BUSY_MS = 250;
