import type { Migration } from '../migrate.ts';
import { records } from './0001-records.ts';

/** The schema of `millpond.db`, oldest step first. */
export const RECORD_MIGRATIONS: readonly Migration[] = [records];
