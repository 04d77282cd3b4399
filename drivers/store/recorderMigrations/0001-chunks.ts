import type { Migration } from '../migrate.ts';

/**
 * The first schema of the flight recorder. FROZEN: a change is a later migration.
 *
 * A chunk is about a second of one pad. `samples` BLOB: `count` times IEEE 754 binary32 seconds
 * after `mono_from`, then `count` times 32-bit two's complement counts, little-endian. `id` grows
 * in the order of arrival, so the oldest are the smallest. Gaps go with their chunk.
 */
export const chunks: Migration = {
  version: 1,
  name: 'chunks',
  sql: `CREATE TABLE raw_pads (
  id INTEGER PRIMARY KEY,
  serial TEXT NOT NULL UNIQUE CHECK (serial <> '')
) STRICT;
CREATE TABLE raw_chunks (
  id INTEGER PRIMARY KEY,
  pad INTEGER NOT NULL REFERENCES raw_pads (id),
  wall_at INTEGER NOT NULL,
  mono_from REAL NOT NULL,
  count INTEGER NOT NULL CHECK (count >= 0),
  samples BLOB NOT NULL CHECK (length(samples) = 8 * count)
) STRICT;
CREATE INDEX raw_chunks_by_pad ON raw_chunks (pad, wall_at);
CREATE TABLE raw_gaps (
  id INTEGER PRIMARY KEY,
  chunk INTEGER NOT NULL REFERENCES raw_chunks (id) ON DELETE CASCADE,
  mono_from REAL NOT NULL,
  mono_to REAL NOT NULL,
  missing INTEGER,
  reason TEXT NOT NULL
) STRICT;
CREATE INDEX raw_gaps_by_chunk ON raw_gaps (chunk);
CREATE TRIGGER raw_chunks_no_update BEFORE UPDATE ON raw_chunks
BEGIN SELECT RAISE(ABORT, 'records are only added'); END;
CREATE TRIGGER raw_gaps_no_update BEFORE UPDATE ON raw_gaps
BEGIN SELECT RAISE(ABORT, 'records are only added'); END;`,
};
