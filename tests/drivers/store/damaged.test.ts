import {
  copyFileSync,
  readdirSync,
  readFileSync,
  rmSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { openStore } from '../../../drivers/store/open.ts';
import { RECORDER_FILE, RECORDS_FILE } from '../../../drivers/store/storeFiles.ts';
import { CAPTURES, filled, filledAndCut, garbage, overwrite, STAMP } from './filledFolder.ts';
import {
  NOW,
  openedStore,
  openingOf,
  OUTING,
  prepare,
  sampleCapture,
  sampleChunks,
  sampleWindow,
  seeded,
  WALL,
} from './sampleRecords.ts';
import { digest, filesOf, temporaryFolder } from './temporaryFolder.ts';

describe('a damaged file', () => {
  const damages: readonly (readonly [string, (path: string) => void])[] = [
    ['garbage from the first byte', (path) => writeFileSync(path, garbage(1, 20_000))],
    ['a short text', (path) => writeFileSync(path, 'not a database\n')],
    ['emptied', (path) => truncateSync(path, 0)],
    ['cut to a few bytes', (path) => truncateSync(path, 10)],
    ['cut within the first page', (path) => truncateSync(path, 1000)],
    ['cut in half', (path) => truncateSync(path, Math.floor(readFileSync(path).length / 2))],
    ['garbage in the first page', (path) => overwrite(path, 100, garbage(2, 2000))],
    ['garbage in a later page', (path) => overwrite(path, 8192, garbage(3, 4096))],
    ['another program’s', (path) => overwrite(path, 68, Buffer.from('none'))],
  ];

  test.each(damages)('%s is set aside untouched and a new one begun', (_what, damage) => {
    const dir = filled();
    const path = join(dir, RECORDS_FILE.name);
    damage(path);
    const found = digest(readFileSync(path));

    const store = openedStore(dir, 3);
    expect(store.faults).toMatchObject([
      { code: 'store-damaged', subject: 'millpond.db', at: NOW },
    ]);
    const kept = join(dir, `millpond-damaged-${STAMP}.db`);
    expect(store.faults[0]?.detail).toContain(kept);
    expect(digest(readFileSync(kept))).toBe(found);
    expect(store.load()).toMatchObject({ settings: null, cars: [], outing: null });
    prepare(store);
    expect(store.saveCapture(sampleCapture(9), sampleWindow(9))).toEqual({ ok: true });
    // The flight recorder stands by itself: it lost nothing.
    expect(
      store.readRaw({ padSerial: 'pad-LF', fromWall: WALL, toWall: WALL + 5000 }),
    ).toHaveLength(3);
    store.close();

    const again = openedStore(dir, 4);
    expect(again.faults).toEqual([]);
    expect(again.captures(OUTING.id)).toEqual([sampleCapture(9)]);
    again.close();
  });

  test.each([
    ['emptied', (path: string) => truncateSync(path, 0)],
    ['gone', (path: string) => rmSync(path)],
    ['not a database any more', (path: string) => overwrite(path, 0, garbage(4, 3000))],
  ])('%s with rows in its log: the log is kept with it, byte for byte', (_what, damage) => {
    const dir = filledAndCut();
    const path = join(dir, RECORDS_FILE.name);
    damage(path);
    const { [RECORDS_FILE.name]: file, [`${RECORDS_FILE.name}-wal`]: log } = filesOf(dir);
    expect(readFileSync(`${path}-wal`).length).toBeGreaterThan(100_000);

    const store = openedStore(dir, 3);
    expect(store.faults).toMatchObject([{ code: 'store-damaged' }]);
    expect(filesOf(dir)).toMatchObject({
      ...(file === undefined ? {} : { [`millpond-damaged-${STAMP}.db`]: file }),
      [`millpond-damaged-${STAMP}.db-wal`]: log,
    });
    expect(store.captures(OUTING.id)).toEqual([]);
    store.close();
  });

  test('garbage in pages of which the log has a newer copy loses nothing', () => {
    const dir = filledAndCut();
    overwrite(join(dir, RECORDS_FILE.name), 100, garbage(4, 300));
    const store = openedStore(dir, 3);
    expect(store.faults).toEqual([]);
    expect(store.captures(OUTING.id)).toHaveLength(CAPTURES.length);
    store.close();
  });

  test('garbage in pages that only the file has: set aside, log and all', () => {
    const dir = filledAndCut();
    const path = join(dir, RECORDS_FILE.name);
    // The page of the last trigger: a part of the schema that no row ever touches.
    overwrite(path, readFileSync(path).length - 4096, garbage(8, 4096));
    const { [RECORDS_FILE.name]: file, [`${RECORDS_FILE.name}-wal`]: log } = filesOf(dir);
    const store = openedStore(dir, 3);
    expect(store.faults).toMatchObject([{ code: 'store-damaged' }]);
    expect(filesOf(dir)).toMatchObject({
      [`millpond-damaged-${STAMP}.db`]: file,
      [`millpond-damaged-${STAMP}.db-wal`]: log,
    });
    store.close();
  });

  test('twice in the same moment: neither is written over', () => {
    const dir = filled();
    for (const text of ['first', 'second']) {
      writeFileSync(join(dir, RECORDS_FILE.name), text);
      openedStore(dir).close();
    }
    const kept = readdirSync(dir)
      .filter((name) => /damaged.*\.db$/.test(name))
      .toSorted();
    expect(kept.map((name) => [name, readFileSync(join(dir, name), 'utf8')])).toEqual([
      [`millpond-damaged-${STAMP}-2.db`, 'second'],
      [`millpond-damaged-${STAMP}.db`, 'first'],
    ]);
  });

  test('the flight recorder’s is set aside and the records stay', () => {
    const dir = filled();
    writeFileSync(join(dir, RECORDER_FILE.name), 'not a database');
    const store = openedStore(dir, 3);
    expect(store.faults).toMatchObject([{ code: 'store-damaged', subject: 'flight-recorder.db' }]);
    expect(store.captures(OUTING.id)).toHaveLength(CAPTURES.length);
    expect(store.record(sampleChunks(0))).toEqual({ ok: true });
    store.close();
  });

  test('garbage anywhere (40 seeds): never a throw, never a wrong number', () => {
    const whole = filled();
    const met = Array.from({ length: 40 }, (_, i) => strewn(whole, 1 + i));
    const count = (what: string): number => met.filter((each) => each === what).length;
    // Every seed ends in one of these; each of the first three does happen.
    expect(count('set aside') + count('unreadable') + count('unharmed') + count('newer')).toBe(40);
    expect(count('set aside')).toBeGreaterThan(0);
    expect(count('unreadable')).toBeGreaterThan(0);
  });
});

/** Strews garbage into a copy of the folder and says how opening and reading it went. */
function strewn(whole: string, seed: number): string {
  const random = seeded(seed);
  const dir = temporaryFolder();
  for (const name of readdirSync(whole)) copyFileSync(join(whole, name), join(dir, name));
  const path = join(dir, RECORDS_FILE.name);
  const at = Math.floor(random() * (readFileSync(path).length - 64));
  overwrite(path, at, garbage(seed, 1 + Math.floor(random() * 64)));
  const found = digest(readFileSync(path));

  const opened = openStore(openingOf(dir, 3));
  // The garbage may have hit the version in the header.
  if (!opened.ok) return opened.fault.code === 'store-newer' ? 'newer' : opened.fault.code;
  const { store } = opened;
  const isAside = store.faults.some(({ code }) => code === 'store-damaged');
  const wrong = CAPTURES.filter((n) => {
    const read = store.openCapture(sampleCapture(n).id);
    return read !== null && JSON.stringify(read.window) !== JSON.stringify(sampleWindow(n));
  });
  store.close();
  if (wrong.length > 0) return `seed ${seed}: wrong numbers`;
  if (!isAside) return store.faults.length === 0 ? 'unharmed' : 'unreadable';
  const kept = digest(readFileSync(join(dir, `millpond-damaged-${STAMP}.db`)));
  return kept === found ? 'set aside' : `seed ${seed}: touched`;
}
