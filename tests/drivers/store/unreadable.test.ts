import { join } from 'node:path';
import { expect, test } from 'vitest';
import type { Database } from '../../../drivers/store/database.ts';
import { connect } from '../../../drivers/store/open.ts';
import { RECORDS_FILE } from '../../../drivers/store/storeFiles.ts';
import { DEFAULT_SETTINGS } from '../../../core/contract/settings.ts';
import { NOW, openedStore, OUTING, prepare, sampleCapture, sampleWindow } from './sampleRecords.ts';
import { temporaryFolder } from './temporaryFolder.ts';

/** Two captures; then `spoil` is done to the file past every guard, as a bad disk would. */
const spoiled = (spoil: string) => {
  const dir = temporaryFolder();
  const store = openedStore(dir);
  prepare(store);
  store.saveSettings(DEFAULT_SETTINGS);
  for (const n of [1, 2]) store.saveCapture(sampleCapture(n), sampleWindow(n));
  store.close();
  const db: Database = connect({
    path: join(dir, RECORDS_FILE.name),
    readonly: false,
    mustExist: true,
    busyMs: 0,
  });
  db.pragma('foreign_keys = OFF', { simple: true });
  db.pragma('ignore_check_constraints = ON', { simple: true });
  const triggers = db
    .prepare<{ name: string; sql: string }>(
      `SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'`,
    )
    .all();
  for (const { name } of triggers) db.exec(`DROP TRIGGER ${name}`);
  db.exec(spoil.replaceAll('$1', `'${sampleCapture(1).id}'`));
  for (const { sql } of triggers) db.exec(sql);
  db.close();
  return openedStore(dir, 2);
};

test.each([
  ['a figure that cannot be', 'UPDATE captures SET gravity = -1.0 WHERE id = $1'],
  ['a covariance that is short', `UPDATE captures SET covariance = '[1,2]' WHERE id = $1`],
  [
    'a balance that lost a field',
    `UPDATE captures SET balance = json_remove(balance, '$.total') WHERE id = $1`,
  ],
  ['a phase nobody knows', `UPDATE captures SET phase = NULL WHERE id = $1`],
  ['a corner that is gone', `DELETE FROM capture_corners WHERE capture_id = $1 AND corner = 'RR'`],
])('%s: the capture is reported and not shown, the others are', (_what, spoil) => {
  const store = spoiled(spoil);
  expect(store.captures(OUTING.id)).toEqual([sampleCapture(2)]);
  expect(store.openCapture(sampleCapture(1).id)).toBeNull();
  expect(store.captures(OUTING.id)).toHaveLength(1);
  expect(store.faults).toEqual([
    {
      code: 'store-record-unreadable',
      at: NOW,
      subject: `capture ${sampleCapture(1).id}`,
      detail: expect.any(String) as string,
    },
  ]);
  store.close();
});

test.each([
  [
    'a flipped bit',
    `UPDATE capture_windows SET counts = CAST(X'01' || substr(counts, 2) AS BLOB) WHERE capture_id = $1 AND corner = 'LR'`,
  ],
  ['a missing corner', `DELETE FROM capture_windows WHERE capture_id = $1 AND corner = 'LF'`],
])('%s in a raw window: the window is reported and not shown', (_what, spoil) => {
  const store = spoiled(spoil);
  expect(store.captures(OUTING.id)).toEqual([sampleCapture(2), sampleCapture(1)]);
  expect(store.openCapture(sampleCapture(1).id)).toBeNull();
  expect(store.openCapture(sampleCapture(2).id)?.window).toEqual(sampleWindow(2));
  expect(store.faults).toMatchObject([
    {
      code: 'store-record-unreadable',
      subject: `raw window of capture ${sampleCapture(1).id}`,
    },
  ]);
  store.close();
});

test('settings, a car or a state that does not parse is reported, and the rest is remembered', () => {
  const store = spoiled(
    `UPDATE settings SET settings = '{}'; UPDATE cars SET car = '[]'; UPDATE car_states SET agreed = '1', crc32 = NULL;`,
  );
  expect(store.load()).toMatchObject({
    settings: null,
    cars: [],
    agreedCarState: null,
    outing: OUTING,
  });
  expect(store.load().carState).not.toBeNull();
  expect(store.faults.map(({ code }) => code)).toEqual([
    'store-record-unreadable',
    'store-record-unreadable',
    'store-record-unreadable',
  ]);
  store.close();
});
