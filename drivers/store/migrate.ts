import type { Database } from './database.ts';

/** One numbered step of a file's schema. Once released it is frozen: a change is a new step. */
export interface Migration {
  /** 1, 2, 3 … without a hole: what `user_version` is afterwards. */
  readonly version: number;
  readonly name: string;
  readonly sql: string;
}

/** The version a file has after all of them. */
export const newestVersion = (migrations: readonly Migration[]): number =>
  migrations.at(-1)?.version ?? 0;

/**
 * Brings a file forward, one transaction for each step: a crash leaves it at a whole version.
 * Forward only; a file that is newer than the last step must have been refused before.
 */
export const migrate = (db: Database, migrations: readonly Migration[]): void => {
  for (const { version, sql } of migrations) {
    db.immediately(() => {
      if (Number(db.pragma('user_version', { simple: true })) >= version) return;
      db.exec(sql);
      db.pragma(`user_version = ${version}`, { simple: true });
    });
  }
};
