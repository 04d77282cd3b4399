import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { newestVersion } from '../../../drivers/store/migrate.ts';
import { connect, openStore } from '../../../drivers/store/open.ts';
import { RECORDER_FILE, RECORDS_FILE } from '../../../drivers/store/storeFiles.ts';
import { DEFAULT_SETTINGS } from '../../../core/contract/settings.ts';
import { CAPTURES, filled, filledAndCut, garbage } from './filledFolder.ts';
import {
  NOW,
  openedStore,
  openingOf,
  OUTING,
  sampleCapture,
  sampleChunks,
  sampleWindow,
} from './sampleRecords.ts';
import { filesOf, temporaryFolder } from './temporaryFolder.ts';

const rawConnection = (dir: string, file = RECORDS_FILE) =>
  connect({ path: join(dir, file.name), readonly: false, mustExist: false, busyMs: 0 });

describe('a newer version', () => {
  test.each([RECORDS_FILE, RECORDER_FILE])('of $name is refused and nothing is touched', (file) => {
    const dir = filled();
    const db = rawConnection(dir, file);
    db.pragma('user_version = 99', { simple: true });
    db.close();
    const before = filesOf(dir);
    expect(openStore(openingOf(dir))).toEqual({
      ok: false,
      fault: {
        code: 'store-newer',
        at: NOW,
        subject: file.name,
        detail: `version 99, known here up to ${newestVersion(file.migrations)}`,
      },
    });
    expect(filesOf(dir)).toEqual(before);
    const after = openStore(openingOf(dir));
    expect(after).toMatchObject({ ok: false, fault: { code: 'store-newer' } });
  });
});

describe('somebody else has it', () => {
  test('a second Millpond on the folder is told so, and the first goes on', () => {
    const dir = temporaryFolder();
    const first = openedStore(dir);
    expect(openStore(openingOf(dir))).toMatchObject({
      ok: false,
      fault: { code: 'store-busy', subject: dir },
    });
    expect(first.saveSettings(DEFAULT_SETTINGS)).toEqual({ ok: true });
    first.close();
    const second = openedStore(dir);
    expect(second.load().settings).toEqual(DEFAULT_SETTINGS);
    second.close();
  });

  test('the same from another process, until that is killed', async () => {
    const dir = temporaryFolder();
    const child = spawn(
      process.execPath,
      [join(import.meta.dirname, 'captureChild.ts'), dir, '1', '--hold'],
      { stdio: ['ignore', 'pipe', 'inherit'] },
    );
    await once(child.stdout, 'data');
    expect(openStore(openingOf(dir))).toMatchObject({ ok: false, fault: { code: 'store-busy' } });
    child.kill('SIGKILL');
    await once(child, 'exit');
    openedStore(dir).close();
  });

  test('another program holds the write lock: busy, and afterwards it goes on', () => {
    const dir = filled();
    const store = openedStore(dir, 3);
    const other = rawConnection(dir);
    other.exec('BEGIN IMMEDIATE');
    expect(store.saveCapture(sampleCapture(6), sampleWindow(6))).toMatchObject({
      ok: false,
      fault: { code: 'store-busy' },
    });
    // Reads are not held up by a writer, nor is the flight recorder.
    expect(store.captures(OUTING.id)).toHaveLength(CAPTURES.length);
    expect(store.record(sampleChunks(3))).toEqual({ ok: true });
    other.exec('ROLLBACK');
    other.close();
    expect(store.saveCapture(sampleCapture(6), sampleWindow(6))).toEqual({ ok: true });
    store.close();
  });
});

describe('what is no damage', () => {
  test('a beginning that was broken off is begun again', () => {
    const dir = temporaryFolder();
    writeFileSync(join(dir, `${RECORDS_FILE.name}.unfinished`), garbage(5, 5000));
    writeFileSync(join(dir, `${RECORDS_FILE.name}.unfinished-journal`), garbage(6, 500));
    const store = openedStore(dir);
    expect(store.faults).toEqual([]);
    store.close();
    expect(readdirSync(dir).toSorted()).toEqual([
      'flight-recorder.db',
      'millpond.db',
      'millpond.lock',
    ]);
  });

  test('a folder that is not there is made; one that is a file is refused', () => {
    const dir = temporaryFolder();
    openedStore(join(dir, 'deep', 'er')).close();
    writeFileSync(join(dir, 'file'), '');
    expect(openStore(openingOf(join(dir, 'file')))).toMatchObject({
      ok: false,
      fault: { code: 'store-failed' },
    });
  });

  test('a folder under the database’s name is refused, not set aside', () => {
    const dir = temporaryFolder();
    mkdirSync(join(dir, RECORDS_FILE.name));
    expect(openStore(openingOf(dir))).toMatchObject({ ok: false, fault: { code: 'store-failed' } });
    expect(readdirSync(dir)).toContain(RECORDS_FILE.name);
  });

  test('rows that are only in the log when the power goes are there afterwards', () => {
    const dir = filledAndCut();
    const store = openedStore(dir, 3);
    expect(store.faults).toEqual([]);
    expect(store.captures(OUTING.id)).toHaveLength(CAPTURES.length);
    store.close();
  });
});
