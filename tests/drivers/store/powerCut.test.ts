import { copyFileSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { RECORDS_FILE } from '../../../drivers/store/storeFiles.ts';
import {
  openedStore,
  OUTING,
  prepare,
  sampleCapture,
  sampleWindow,
  seeded,
} from './sampleRecords.ts';
import { temporaryFolder } from './temporaryFolder.ts';

/**
 * What a power cut can leave of the log: any part of it written, the rest missing or garbage. The
 * kill test cannot show that, since the system writes on when only the process ends.
 */
const CUTS = 40;
const SEED = 7;

test(`the log torn at ${CUTS} places: what was synced before the tear is there, nothing is half`, () => {
  const dir = temporaryFolder();
  const store = openedStore(dir);
  prepare(store);
  const name = `${RECORDS_FILE.name}-wal`;
  /** How long the log was when each capture was acknowledged: its commit lies before that. */
  const acknowledgedAt: number[] = [];
  for (let n = 1; n <= 12; n += 1) {
    store.saveCapture(sampleCapture(n), sampleWindow(n));
    acknowledgedAt.push(statSync(join(dir, name)).size);
  }
  const database = readFileSync(join(dir, RECORDS_FILE.name));
  const log = readFileSync(join(dir, name));
  store.close();

  const random = seeded(SEED);
  const seen = new Set<number>();
  for (let cut = 0; cut < CUTS; cut += 1) {
    const at = Math.floor(random() * log.length);
    const torn = temporaryFolder();
    const tail = random() < 0.5 ? Buffer.alloc(0) : Buffer.alloc(log.length - at, 0xa5);
    writeFileSync(join(torn, RECORDS_FILE.name), database);
    writeFileSync(join(torn, name), Buffer.concat([log.subarray(0, at), tail]));

    const after = openedStore(torn, 2);
    const there = after.captures(OUTING.id);
    const due = acknowledgedAt.filter((length) => length <= at).length;
    expect(there.map(({ number }) => number).toReversed(), `cut at ${at}`).toEqual(
      Array.from({ length: due }, (_, i) => i + 1),
    );
    const wrong = there.filter(
      ({ id, number }) =>
        JSON.stringify(after.openCapture(id)?.window) !== JSON.stringify(sampleWindow(number)),
    );
    expect(wrong).toEqual([]);
    expect(after.faults).toEqual([]);
    after.close();
    rmSync(torn, { recursive: true });
    seen.add(due);
  }
  expect(seen.size).toBeGreaterThan(8);
}, 30_000);

test('a log of another database beside it is not taken for its own', () => {
  const dirs = [temporaryFolder(), temporaryFolder()] as const;
  for (const [i, dir] of dirs.entries()) {
    const store = openedStore(dir, 1 + i);
    prepare(store);
    store.saveCapture(sampleCapture(1 + i), sampleWindow(1 + i));
    if (i === 1)
      copyFileSync(join(dir, `${RECORDS_FILE.name}-wal`), join(dirs[0], 'log of the other'));
    store.close();
  }
  const [dir] = dirs;
  const log = readFileSync(join(dir, 'log of the other'));
  writeFileSync(join(dir, `${RECORDS_FILE.name}-wal`), log.subarray(0, 32 + 100));
  const store = openedStore(dir, 5);
  expect(store.captures(OUTING.id)).toEqual([sampleCapture(1)]);
  store.close();
});
