import type { Migration } from '../migrate.ts';

/**
 * The first schema of the records. FROZEN: what is wrong here is put right by a later migration.
 *
 * - `seq` is the order in which this database took the rows: "newest" means the largest. It is no
 *   part of a record, so databases made apart can be joined by `id`, a UUIDv7.
 * - `added_at` and other `…_at` are wall-clock labels, ms since 1970 UTC.
 * - Degrees of freedom: null stands for infinite, in columns and in JSON.
 * - BLOBs are IEEE 754 binary64, little-endian, one per sample.
 * - Cars and venues are kept by version: `id` names the version, `car_id` and `venue_id` the thing.
 * - Nothing is changed or deleted: triggers on every table refuse it.
 * - survey, calibration, state, zero, phase and venue of a capture may be null: not every record
 *   has them, and later parts fill what is not made yet.
 */

const key = `seq INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE CHECK (length(id) = 36 AND substr(id, 15, 1) = '7'),
  added_at INTEGER NOT NULL`;
const json = (column: string): string => `${column} TEXT NOT NULL CHECK (json_valid(${column}))`;
const yesNo = (column: string): string => `${column} INTEGER NOT NULL CHECK (${column} IN (0, 1))`;
const dof = (column: string): string => `${column} REAL CHECK (${column} > 0)`;
const u = (column: string): string => `${column} REAL NOT NULL CHECK (${column} >= 0)`;
const corner = `corner IN ('LF', 'RF', 'LR', 'RR')`;

const tables: Readonly<Record<string, string>> = {
  settings: `${key},
  ${json('settings')}`,

  source_choices: `${key},
  source TEXT NOT NULL CHECK (source IN ('rig', 'bluetooth', 'recording'))`,

  cars: `${key},
  car_id TEXT NOT NULL,
  replaces TEXT REFERENCES cars (id),
  ${json('car')}`,

  car_choices: `${key},
  car_version TEXT NOT NULL REFERENCES cars (id)`,

  venues: `${key},
  venue_id TEXT NOT NULL,
  replaces TEXT REFERENCES venues (id),
  ${json('venue')}`,

  venue_choices: `${key},
  venue_version TEXT NOT NULL REFERENCES venues (id)`,

  events: `${key},
  replaces TEXT REFERENCES events (id),
  name TEXT NOT NULL,
  begun_at INTEGER NOT NULL,
  venue_version TEXT REFERENCES venues (id)`,

  sessions: `${key},
  event_id TEXT REFERENCES events (id),
  venue_version TEXT REFERENCES venues (id),
  name TEXT NOT NULL,
  begun_at INTEGER NOT NULL,
  ${yesNo('practice')}`,

  pads: `${key},
  serial TEXT NOT NULL UNIQUE CHECK (serial <> '')`,

  assignments: `${key},
  pad_serial TEXT NOT NULL REFERENCES pads (serial),
  corner TEXT CHECK (${corner})`,

  calibrations: `${key},
  replaces TEXT REFERENCES calibrations (id),
  pad_serial TEXT NOT NULL REFERENCES pads (serial),
  made_at INTEGER NOT NULL,
  ${json('calibration')}`,

  zeros: `${key},
  pad_serial TEXT NOT NULL REFERENCES pads (serial),
  taken_at INTEGER NOT NULL,
  counts REAL NOT NULL,
  ${u('u')},
  ${dof('dof')},
  temperature REAL`,

  surveys: `${key},
  replaces TEXT REFERENCES surveys (id),
  venue_version TEXT REFERENCES venues (id),
  made_at INTEGER NOT NULL,
  ${json('survey')}`,

  car_states: `${key},
  car_version TEXT REFERENCES cars (id),
  ${json('state')},
  ${json('agreed')}`,

  captures: `${key},
  replaces TEXT REFERENCES captures (id),
  session_id TEXT NOT NULL REFERENCES sessions (id),
  car_version TEXT NOT NULL REFERENCES cars (id),
  car_name TEXT NOT NULL,
  venue_version TEXT REFERENCES venues (id),
  venue_name TEXT,
  phase TEXT CHECK (phase IN ('set-up', 'set-down', 'check')),
  state_id TEXT REFERENCES car_states (id),
  survey_id TEXT REFERENCES surveys (id),
  number INTEGER NOT NULL CHECK (number > 0),
  taken_at INTEGER NOT NULL,
  note TEXT NOT NULL,
  ${yesNo('practice')},
  gravity REAL NOT NULL CHECK (gravity > 0),
  window_seconds REAL NOT NULL CHECK (window_seconds > 0),
  ${json('covariance')},
  ${json('balance')},
  ${json('car_state')},
  ${json('car_state_notes')}`,

  capture_corners: `capture_id TEXT NOT NULL REFERENCES captures (id),
  corner TEXT NOT NULL CHECK (${corner}),
  pad_serial TEXT NOT NULL REFERENCES pads (serial),
  calibration_id TEXT REFERENCES calibrations (id),
  ${yesNo('calibrated')},
  zero_id TEXT REFERENCES zeros (id),
  zero_counts REAL,
  force REAL NOT NULL,
  ${u('force_u')},
  ${dof('force_dof')},
  mass REAL NOT NULL,
  ${u('mass_u')},
  ${dof('mass_dof')},
  samples INTEGER NOT NULL CHECK (samples > 0),
  effective_samples REAL NOT NULL CHECK (effective_samples > 0),
  slope REAL NOT NULL,
  spikes INTEGER NOT NULL CHECK (spikes >= 0),
  temperature REAL,
  PRIMARY KEY (capture_id, corner)`,

  capture_windows: `capture_id TEXT NOT NULL,
  corner TEXT NOT NULL,
  samples INTEGER NOT NULL CHECK (samples > 0),
  t BLOB NOT NULL CHECK (length(t) = 8 * samples),
  counts BLOB NOT NULL CHECK (length(counts) = 8 * samples),
  crc32 INTEGER NOT NULL,
  PRIMARY KEY (capture_id, corner),
  FOREIGN KEY (capture_id, corner) REFERENCES capture_corners (capture_id, corner)`,

  zero_shifts: `${key},
  capture_id TEXT NOT NULL REFERENCES captures (id),
  LF REAL,
  RF REAL,
  LR REAL,
  RR REAL`,

  set_asides: `${key},
  capture_id TEXT NOT NULL REFERENCES captures (id),
  ${yesNo('aside')}`,
};

const indexes: readonly (readonly [table: string, columns: string])[] = [
  ['cars', 'car_id'],
  ['venues', 'venue_id'],
  ['zeros', 'pad_serial'],
  ['captures', 'session_id'],
  ['zero_shifts', 'capture_id'],
  ['set_asides', 'capture_id'],
];

const onlyAdded = (table: string): string =>
  ['UPDATE', 'DELETE']
    .map(
      (act) => `CREATE TRIGGER ${table}_no_${act.toLowerCase()} BEFORE ${act} ON ${table}
BEGIN SELECT RAISE(ABORT, 'records are only added'); END;`,
    )
    .join('\n');

export const records: Migration = {
  version: 1,
  name: 'records',
  sql: [
    ...Object.entries(tables).map(
      ([table, columns]) => `CREATE TABLE ${table} (\n  ${columns}\n) STRICT;\n${onlyAdded(table)}`,
    ),
    ...indexes.map(
      ([table, columns]) => `CREATE INDEX ${table}_by_${columns} ON ${table} (${columns});`,
    ),
  ].join('\n'),
};
