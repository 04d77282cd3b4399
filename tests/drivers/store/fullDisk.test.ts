import { join } from 'node:path';
import { expect, test } from 'vitest';
import type { Database } from '../../../drivers/store/database.ts';
import { connect } from '../../../drivers/store/open.ts';
import { openFile } from '../../../drivers/store/openFile.ts';
import { createStore } from '../../../drivers/store/store.ts';
import { storeFault } from '../../../drivers/store/storeFault.ts';
import { RECORDER_FILE, RECORDS_FILE } from '../../../drivers/store/storeFiles.ts';
import {
  idMaker,
  NOW,
  OUTING,
  prepare,
  sampleCapture,
  sampleChunks,
  sampleWindow,
  WALL,
} from './sampleRecords.ts';
import { temporaryFolder } from './temporaryFolder.ts';

/** A database that may not grow answers SQLITE_FULL, as one on a full disk does. */
const mayGrowBy = (db: Database, pages: number): void => {
  const now = Number(db.pragma('page_count', { simple: true }));
  db.pragma(`max_page_count = ${now + pages}`, { simple: true });
};

test('a full disk: the capture is refused whole, what was there stays, and room helps', () => {
  const dir = temporaryFolder();
  const [records, recorder] = [RECORDS_FILE, RECORDER_FILE].map((file) =>
    openFile(join(dir, file.name), file, { absent: true, connect }),
  ) as [Database, Database];
  const store = createStore({
    path: join(dir, RECORDS_FILE.name),
    records,
    recorder,
    wallClock: () => WALL,
    newId: idMaker(1),
    now: () => NOW,
    faults: [],
    close: () => {
      records.close();
      recorder.close();
    },
  });
  prepare(store);
  expect(store.saveCapture(sampleCapture(1), sampleWindow(1))).toEqual({ ok: true });
  mayGrowBy(records, 3);
  mayGrowBy(recorder, 0);
  for (const outcome of [
    store.saveCapture(sampleCapture(2), sampleWindow(2)),
    store.record([0, 1, 2, 3, 4].flatMap((at) => sampleChunks(at))),
  ])
    expect(outcome).toMatchObject({ ok: false, fault: { code: 'store-full', at: NOW } });
  expect(store.captures(OUTING.id)).toEqual([sampleCapture(1)]);
  expect(records.prepare('SELECT * FROM capture_windows').all()).toHaveLength(4);

  mayGrowBy(records, 1000);
  mayGrowBy(recorder, 1000);
  expect(store.saveCapture(sampleCapture(2), sampleWindow(2))).toEqual({ ok: true });
  expect(store.record(sampleChunks(0))).toEqual({ ok: true });
  expect(store.captures(OUTING.id)).toEqual([sampleCapture(2), sampleCapture(1)]);
  store.close();
});

test.each([
  ['SQLITE_FULL', 'store-full'],
  ['ENOSPC', 'store-full'],
  ['SQLITE_BUSY', 'store-busy'],
  ['SQLITE_BUSY_SNAPSHOT', 'store-busy'],
  ['SQLITE_LOCKED', 'store-busy'],
  ['SQLITE_IOERR_WRITE', 'store-failed'],
  ['SQLITE_READONLY', 'store-failed'],
  ['', 'store-failed'],
])('%s is %s', (code, expected) => {
  const error = Object.assign(new Error('said the disk'), code === '' ? {} : { code });
  expect(storeFault(error, NOW, 'a file')).toEqual({
    code: expected,
    at: NOW,
    subject: 'a file',
    detail: code === '' ? 'said the disk' : `${code}: said the disk`,
  });
});
