import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { connect } from '../../../drivers/store/open.ts';
import { configure } from '../../../drivers/store/openFile.ts';
import { RECORDER_FILE, RECORDS_FILE } from '../../../drivers/store/storeFiles.ts';
import { DEFAULT_SETTINGS } from '../../../core/contract/settings.ts';
import {
  openedStore,
  prepare,
  sampleCalibration,
  sampleCapture,
  sampleChunks,
  sampleKept,
  sampleWindow,
} from './sampleRecords.ts';
import { temporaryFolder } from './temporaryFolder.ts';

/** Tables that no part of Millpond writes yet: they have no row to try on. */
const NOT_WRITTEN_YET = ['events', 'surveys'];

const connection = (dir: string, file = RECORDS_FILE) => {
  const db = connect({ path: join(dir, file.name), readonly: false, mustExist: true, busyMs: 0 });
  configure(db, file);
  return db;
};

test('no row of any table can be changed, deleted or replaced', () => {
  const dir = temporaryFolder();
  const store = openedStore(dir);
  prepare(store);
  store.saveSettings(DEFAULT_SETTINGS);
  store.saveSource('rig');
  store.assign('pad-LF', 'LF');
  store.saveCalibration(sampleCalibration(1));
  store.keep(sampleKept(1));
  store.saveCapture(sampleCapture(1, { setAside: true }), sampleWindow(1));
  store.noteZeroShift(sampleCapture(1).id, { LF: 0, RF: 0, LR: 0, RR: null });
  store.close();

  const db = connection(dir);
  const tables = db
    .prepare<{ name: string }>(`SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name`)
    .all()
    .map(({ name }) => name);
  const rowsOf = (table: string) => db.prepare(`SELECT * FROM ${table}`).all();
  const before = tables.map(rowsOf);
  expect(tables.filter((_table, i) => before[i]?.length === 0)).toEqual(NOT_WRITTEN_YET);

  for (const table of tables.filter((name) => !NOT_WRITTEN_YET.includes(name))) {
    const columns = db
      .prepare<{ name: string }>(`SELECT name FROM pragma_table_info('${table}')`)
      .all();
    const column = columns.at(-1)?.name;
    for (const sql of [
      `UPDATE ${table} SET ${column} = ${column}`,
      `DELETE FROM ${table}`,
      `INSERT OR REPLACE INTO ${table} SELECT * FROM ${table}`,
    ])
      expect(() => db.exec(sql)).toThrow('records are only added');
  }
  expect(tables.map(rowsOf)).toEqual(before);
  db.close();
});

test('chunks of the flight recorder can fall out and cannot be changed', () => {
  const dir = temporaryFolder();
  const store = openedStore(dir);
  store.record(sampleChunks(1));
  store.close();
  const db = connection(dir, RECORDER_FILE);
  expect(() => db.exec('UPDATE raw_chunks SET count = 0')).toThrow('records are only added');
  expect(db.prepare('SELECT id FROM raw_chunks').all()).toHaveLength(4);
  db.close();
});

test('the only statement that deletes is the trimming of the flight recorder', () => {
  const folder = join(import.meta.dirname, '../../../drivers/store');
  const found = readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts'))
    .flatMap((name) =>
      [
        ...readFileSync(join(folder, name), 'utf8').matchAll(
          /\b(?:DELETE FROM \w+|UPDATE \w+ SET|REPLACE INTO)/g,
        ),
      ].map(([statement]) => `${name}: ${statement}`),
    );
  expect(found).toEqual(['recorder.ts: DELETE FROM raw_chunks']);
});
