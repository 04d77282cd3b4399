import type { Migration } from '../migrate.ts';
import { records } from './0001-records.ts';
import { kept } from './0002-kept.ts';
import { checksums } from './0003-checksums.ts';

/** The schema of `millpond.db`, oldest step first. */
export const RECORD_MIGRATIONS: readonly Migration[] = [records, kept, checksums];
