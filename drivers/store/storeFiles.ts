import { RECORD_MIGRATIONS } from './migrations/recordMigrations.ts';
import type { Migration } from './migrate.ts';
import { RECORDER_MIGRATIONS } from './recorderMigrations/recorderMigrations.ts';

/**
 * The two databases of a data folder. The flight recorder has its own, because it is written every
 * second without waiting for the disk: so a capture's full sync has nothing of it to carry, its
 * trimming never touches the records, and if it is damaged no record is.
 */
export interface StoreFile {
  readonly name: string;
  /** Marks the file as ours in its header (`application_id`). */
  readonly applicationId: number;
  readonly migrations: readonly Migration[];
  /** FULL: a commit waits for the disk. NORMAL: whole after a crash, the last moments may be gone. */
  readonly synchronous: 'FULL' | 'NORMAL';
  readonly pageSize: number;
  /** Pages in the write-ahead log at which it is copied back into the file. */
  readonly checkpointPages: number;
}

export const RECORDS_FILE: StoreFile = {
  name: 'millpond.db',
  applicationId: 0x4d504e44, // 'MPND'
  migrations: RECORD_MIGRATIONS,
  synchronous: 'FULL',
  pageSize: 4096,
  checkpointPages: 1000,
};

export const RECORDER_FILE: StoreFile = {
  name: 'flight-recorder.db',
  applicationId: 0x4d505246, // 'MPRF'
  migrations: RECORDER_MIGRATIONS,
  synchronous: 'NORMAL',
  // A chunk of 84 samples goes five times on a page of 4 kB, with a sixth left over (10.0 bytes
  // a sample, measured; 9.2 on 8 kB).
  pageSize: 8192,
  // Every four minutes with four pads at 80 Hz: the one write in 250 that waits for the disk.
  checkpointPages: 1000,
};

/** Held locked by the Millpond that uses the folder; always empty. */
export const LOCK_FILE = 'millpond.lock';

/** What SQLite puts beside a database. */
export const COMPANIONS = ['-wal', '-shm', '-journal'] as const;
