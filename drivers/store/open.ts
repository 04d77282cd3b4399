import BetterSqlite3 from 'better-sqlite3';
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { fault, type Fault } from '../../core/faults.ts';
import type { Second } from '../../core/units.ts';
import type { Connect, Database, SqlNamed } from './database.ts';
import { inspectFile } from './inspectFile.ts';
import { keepDamaged } from './keepDamaged.ts';
import { newestVersion } from './migrate.ts';
import { openFile } from './openFile.ts';
import { createStore, type Store } from './store.ts';
import { storeFault } from './storeFault.ts';
import { LOCK_FILE, RECORDER_FILE, RECORDS_FILE } from './storeFiles.ts';

/** Opens a connection: the one place that names the library (Node-API binaries, Node 22 and newer). */
export const connect: Connect = ({ path, readonly, mustExist, busyMs }) => {
  const db = new BetterSqlite3(path, { readonly, fileMustExist: mustExist, timeout: busyMs });
  return {
    prepare: <Row>(sql: string) => {
      const statement = db.prepare<SqlNamed[], Row>(sql);
      return {
        run: (values) => (values ? statement.run(values) : statement.run()),
        get: (values) => (values ? statement.get(values) : statement.get()),
        all: (values) => (values ? statement.all(values) : statement.all()),
      };
    },
    exec: (sql) => db.exec(sql),
    pragma: (sql, options) => db.pragma(sql, options),
    immediately: (work) => db.transaction(work).immediate(),
    close: () => void db.close(),
  };
};

export interface StoreOptions {
  /** The data folder; made if it is not there. */
  readonly dir: string;
  /** Wall-clock label, milliseconds since 1970 UTC. */
  readonly wallClock: () => number;
  /** A new UUIDv7. */
  readonly newId: () => string;
  /** The host's monotonic clock: when a fault happened. */
  readonly now: () => Second;
}

/** Opened, or refused with the reason: never a throw. What was met on the way is in `store.faults`. */
export type OpenedStore =
  { readonly ok: true; readonly store: Store } | { readonly ok: false; readonly fault: Fault };

/**
 * Takes the folder for this process. The system lets go of the lock when the process ends, however
 * it ends, so there is no stale lock to clear away. Throws SQLITE_BUSY where another holds it.
 */
const takeFolder = (dir: string): Database => {
  const lock = connect({
    path: join(dir, LOCK_FILE),
    readonly: false,
    mustExist: false,
    busyMs: 0,
  });
  try {
    lock.exec('BEGIN EXCLUSIVE');
    return lock;
  } catch (error) {
    lock.close();
    throw error;
  }
};

/**
 * Opens the data folder. Faults: `store-busy` another Millpond has the folder; `store-newer` a file
 * was written by a newer one (nothing is touched); `store-full`, `store-failed` the disk. A damaged
 * file is no refusal: it is set aside untouched, a new one is begun and `store.faults` says so.
 */
export const openStore = (options: StoreOptions): OpenedStore => {
  const { dir, wallClock, now } = options;
  const open: Database[] = [];
  const close = (): void => {
    for (const db of open.splice(0).toReversed()) db.close();
  };
  try {
    mkdirSync(dir, { recursive: true });
    open.push(takeFolder(dir));
    const found = [RECORDS_FILE, RECORDER_FILE].map((file) => {
      const path = join(dir, file.name);
      return { file, path, state: inspectFile(path, file, connect) };
    });
    for (const { file, state } of found) {
      if (state.is !== 'newer') continue;
      close();
      const detail = `version ${state.version}, known here up to ${newestVersion(file.migrations)}`;
      return { ok: false, fault: fault('store-newer', now(), { subject: file.name, detail }) };
    }
    const faults: Fault[] = [];
    for (const { file, path, state } of found) {
      if (state.is === 'damaged') {
        const kept = keepDamaged(path, wallClock());
        const detail = `${state.why}; kept as ${kept}`;
        faults.push(fault('store-damaged', now(), { subject: file.name, detail }));
      }
      open.push(openFile(path, file, { absent: state.is !== 'sound', connect }));
    }
    const [, records, recorder] = open;
    if (!records || !recorder) throw new Error('a database was not opened');
    const path = join(dir, RECORDS_FILE.name);
    return {
      ok: true,
      store: createStore({ ...options, path, records, recorder, faults, close }),
    };
  } catch (error) {
    close();
    return { ok: false, fault: storeFault(error, now(), dir) };
  }
};
