import { createHash } from 'node:crypto';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Database } from '../../../drivers/store/database.ts';
import { migrate, newestVersion, type Migration } from '../../../drivers/store/migrate.ts';
import { connect } from '../../../drivers/store/open.ts';
import { openFile } from '../../../drivers/store/openFile.ts';
import { RECORDER_FILE, RECORDS_FILE } from '../../../drivers/store/storeFiles.ts';
import { openedStore, OUTING, prepare, sampleCapture, sampleWindow } from './sampleRecords.ts';
import { temporaryFolder } from './temporaryFolder.ts';

const emptyDatabase = (): Database =>
  connect({ path: ':memory:', readonly: false, mustExist: false, busyMs: 0 });
const version = (db: Database): unknown => db.pragma('user_version', { simple: true });
const tablesOf = (db: Database) =>
  db
    .prepare<{ name: string; strict: number }>(
      `SELECT name, strict FROM pragma_table_list WHERE schema = 'main' AND name NOT LIKE 'sqlite_%' ORDER BY name`,
    )
    .all();

describe.each([RECORDS_FILE, RECORDER_FILE])('$name', ({ migrations }) => {
  test('is made from nothing, step by step, and every table is STRICT', () => {
    const db = emptyDatabase();
    migrate(db, migrations);
    expect(version(db)).toBe(newestVersion(migrations));
    const tables = tablesOf(db);
    expect(tables.length).toBeGreaterThan(2);
    expect(tables.filter(({ strict }) => strict !== 1)).toEqual([]);
    db.close();
  });

  test('a second run changes nothing', () => {
    const db = emptyDatabase();
    migrate(db, migrations);
    const schema = db.prepare('SELECT * FROM sqlite_schema').all();
    migrate(db, migrations);
    expect(db.prepare('SELECT * FROM sqlite_schema').all()).toEqual(schema);
    db.close();
  });

  test('steps are numbered 1, 2, 3 …', () => {
    expect(migrations.map((step) => step.version)).toEqual(migrations.map((_, i) => i + 1));
  });
});

test('released steps are frozen', () => {
  const sums = [...RECORDS_FILE.migrations, ...RECORDER_FILE.migrations].map(
    ({ name, sql }) => `${name} ${createHash('sha256').update(sql).digest('hex').slice(0, 16)}`,
  );
  // A sum that differs means that a step was edited: put it back and write a new one instead.
  expect(sums).toEqual(FROZEN);
});

test('a step that fails leaves the version before it, whole', () => {
  const db = emptyDatabase();
  migrate(db, RECORDS_FILE.migrations);
  const before = db.prepare('SELECT * FROM sqlite_schema').all();
  const next = newestVersion(RECORDS_FILE.migrations) + 1;
  const broken: Migration = {
    version: next,
    name: 'broken',
    sql: 'CREATE TABLE half (id INTEGER) STRICT; CREATE TABLE half (id INTEGER) STRICT;',
  };
  expect(() => migrate(db, [...RECORDS_FILE.migrations, broken])).toThrow('already exists');
  expect(version(db)).toBe(next - 1);
  expect(db.prepare('SELECT * FROM sqlite_schema').all()).toEqual(before);
  db.close();
});

test('a file with rows goes one step on and keeps every row', () => {
  const dir = temporaryFolder();
  const store = openedStore(dir);
  prepare(store);
  store.saveCapture(sampleCapture(1), sampleWindow(1));
  const kept = store.captures(OUTING.id);
  store.close();
  const path = join(dir, RECORDS_FILE.name);
  const next: Migration = {
    version: newestVersion(RECORDS_FILE.migrations) + 1,
    name: 'next',
    sql: 'ALTER TABLE captures ADD COLUMN weather TEXT;',
  };
  const rows = (db: Database) =>
    tablesOf(db).map(({ name }) => [name, db.prepare(`SELECT * FROM ${name}`).all()] as const);
  const now = openFile(path, RECORDS_FILE, { absent: false, connect });
  const before = rows(now);
  now.close();
  const later = openFile(
    path,
    { ...RECORDS_FILE, migrations: [...RECORDS_FILE.migrations, next] },
    { absent: false, connect },
  );
  expect(version(later)).toBe(next.version);
  expect(rows(later)).toEqual(
    before.map(([name, all]) => [
      name,
      name === 'captures' ? all.map((row) => ({ ...(row as object), weather: null })) : all,
    ]),
  );
  expect(later.prepare('PRAGMA foreign_key_check').all()).toEqual([]);
  later.close();
  expect(kept).toEqual([sampleCapture(1)]);
});

test('a file of the first version with rows comes to the newest with every row', () => {
  const dir = temporaryFolder();
  const store = openedStore(dir);
  prepare(store);
  store.saveCapture(sampleCapture(1, { setAside: true }), sampleWindow(1));
  store.assign('pad-RF', 'RF');
  store.close();
  const old = { ...RECORDS_FILE, migrations: RECORDS_FILE.migrations.slice(0, 1) };
  const path = join(dir, 'first.db');
  const first = openFile(path, old, { absent: true, connect });
  const names = tablesOf(first).map(({ name }) => name);
  first.exec(`ATTACH '${join(dir, RECORDS_FILE.name)}' AS filled`);
  const columns = new Map(
    names.map((name) => [
      name,
      first
        .prepare<{ name: string }>(`SELECT name FROM pragma_table_info('${name}', 'main')`)
        .all()
        .map((column) => column.name)
        .join(', '),
    ]),
  );
  const copy = (name: string): string =>
    `INSERT INTO main.${name} (${columns.get(name)}) SELECT ${columns.get(name)} FROM filled.${name};`;
  first.exec(`PRAGMA foreign_keys = OFF; BEGIN;
    ${names.map(copy).join('\n')}
    COMMIT`);
  const rows = (db: Database) =>
    names.map(
      (name) => [name, db.prepare(`SELECT ${columns.get(name)} FROM main.${name}`).all()] as const,
    );
  const before = rows(first);
  expect(before.filter(([, all]) => all.length > 0).length).toBeGreaterThan(10);
  first.close();

  const newest = openFile(path, RECORDS_FILE, { absent: false, connect });
  expect(version(newest)).toBe(newestVersion(RECORDS_FILE.migrations));
  expect(rows(newest)).toEqual(before);
  expect(newest.prepare('PRAGMA foreign_key_check').all()).toEqual([]);
  newest.close();
});

test('the first step has room, nullable, for what a capture refers to', () => {
  const db = emptyDatabase();
  migrate(db, RECORDS_FILE.migrations.slice(0, 1));
  const nullable = (table: string) =>
    db
      .prepare<{ name: string }>(
        `SELECT name FROM pragma_table_info('${table}') WHERE "notnull" = 0 AND pk = 0`,
      )
      .all()
      .map(({ name }) => name);
  expect(nullable('captures')).toEqual(
    expect.arrayContaining(['phase', 'state_id', 'survey_id', 'venue_version', 'replaces']),
  );
  expect(nullable('capture_corners')).toEqual(
    expect.arrayContaining(['calibration_id', 'zero_id']),
  );
  db.close();
});

test('what belongs to the connection is stated: full sync for records, foreign keys on', () => {
  const dir = temporaryFolder();
  const stated = [RECORDS_FILE, RECORDER_FILE].map((file) => {
    const db = openFile(join(dir, file.name), file, { absent: true, connect });
    const said = ['journal_mode', 'synchronous', 'foreign_keys', 'recursive_triggers'].map(
      (pragma) => db.pragma(pragma, { simple: true }),
    );
    db.close();
    return said;
  });
  // synchronous: 2 is FULL, 1 is NORMAL (https://www.sqlite.org/pragma.html#pragma_synchronous).
  expect(stated).toEqual([
    ['wal', 2, 1, 1],
    ['wal', 1, 1, 1],
  ]);
});

const FROZEN: readonly string[] = [
  'records 888e2273b2216347',
  'kept e9e3bac8d5a8d138',
  'checksums c70b9a5d2c9faf00',
  'chunks 2ae2c1cae9fd925f',
];
