import type { Migration } from '../migrate.ts';
import { chunks } from './0001-chunks.ts';

/** The schema of `flight-recorder.db`, oldest step first. */
export const RECORDER_MIGRATIONS: readonly Migration[] = [chunks];
