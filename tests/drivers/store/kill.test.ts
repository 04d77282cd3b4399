import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { expect, test } from 'vitest';
import { connect } from '../../../drivers/store/open.ts';
import { RECORDS_FILE } from '../../../drivers/store/storeFiles.ts';
import { openedStore, OUTING, sampleCapture, sampleWindow, seeded } from './sampleRecords.ts';
import { temporaryFolder } from './temporaryFolder.ts';

/**
 * SIGKILL while captures are being saved. The child saves without a pause, so that nearly every
 * moment is in the midst of one; when it is killed is a matter of the seed and of the machine.
 */
const KILLS = 50;
const SEED = 20_260_131;
/** A child that says nothing for so long is broken. */
const DEADLINE_MS = 20_000;

/** Runs a child until it acknowledged `acks` captures and `afterMs` more, kills it, gives the numbers. */
const killedChild = async (options: {
  readonly dir: string;
  readonly cache: string;
  readonly first: number;
  readonly acks: number;
  readonly afterMs: number;
}): Promise<number[]> => {
  const { dir, cache, first, acks, afterMs } = options;
  const child = spawn(
    process.execPath,
    [join(import.meta.dirname, 'captureChild.ts'), dir, String(first)],
    {
      stdio: ['ignore', 'pipe', 'inherit'],
      // Fifty starts of the same sources: compiled once, in half the time.
      env: { ...process.env, NODE_COMPILE_CACHE: cache },
    },
  );
  const deadline = AbortSignal.timeout(DEADLINE_MS);
  let said = '';
  child.stdout.setEncoding('utf8').on('data', (text: string) => (said += text));
  const lines = (): string[] => said.split('\n').slice(0, -1);
  const exited = once(child, 'close');
  try {
    while (lines().length < 1 + acks) {
      await Promise.race([once(child.stdout, 'data', { signal: deadline }), exited]);
      if (child.exitCode !== null) throw new Error(`the child ended by itself: ${child.exitCode}`);
    }
    await pause(afterMs);
  } finally {
    child.kill('SIGKILL');
    await exited;
  }
  expect(child.signalCode).toBe('SIGKILL');
  return lines().slice(1).map(Number);
};

test(`killed ${KILLS} times while saving: every acknowledged capture is there and whole, none half`, async () => {
  const dir = temporaryFolder();
  const cache = temporaryFolder();
  const random = seeded(SEED);
  const acknowledged = new Set<number>();
  let next = 1;
  let due = 0;
  for (let kill = 1; kill <= KILLS; kill += 1) {
    const acks = Math.floor(random() * 4);
    due += acks;
    const said = await killedChild({
      dir,
      cache,
      first: next,
      acks,
      afterMs: 6 * random(),
    });
    for (const n of said) acknowledged.add(n);

    const store = openedStore(dir, 2 ** 15 + kill);
    const there = store.captures(OUTING.id);
    expect(store.faults, `kill ${kill}`).toEqual([]);
    const numbers = there.map(({ number }) => number);
    for (const n of said) expect(numbers, `kill ${kill}`).toContain(n);
    // From the first of this child on: those before were looked at after the kill before.
    for (const capture of there.filter(({ number }) => number >= next)) {
      expect(capture, `kill ${kill}`).toEqual(sampleCapture(capture.number));
      expect(JSON.stringify(store.openCapture(capture.id)?.window)).toBe(
        JSON.stringify(sampleWindow(capture.number)),
      );
    }
    store.close();
    next = Math.max(0, ...numbers) + 1;
  }

  const db = connect({
    path: join(dir, RECORDS_FILE.name),
    readonly: true,
    mustExist: true,
    busyMs: 0,
  });
  const count = (sql: string): number => db.prepare<{ n: number }>(sql).get()?.n ?? NaN;
  const captures = count('SELECT count(*) AS n FROM captures');
  expect(captures).toBeGreaterThanOrEqual(acknowledged.size);
  expect(count('SELECT count(*) AS n FROM capture_corners')).toBe(4 * captures);
  expect(count('SELECT count(*) AS n FROM capture_windows')).toBe(4 * captures);
  expect(db.prepare('PRAGMA foreign_key_check').all()).toEqual([]);
  expect(db.prepare('PRAGMA integrity_check').all()).toEqual([{ integrity_check: 'ok' }]);
  db.close();
  expect(acknowledged.size).toBeGreaterThanOrEqual(due);
  expect(due).toBeGreaterThan(KILLS);
  console.log(
    `killed ${KILLS} times (seed ${SEED}): ${acknowledged.size} captures acknowledged, ${captures} there, all whole`,
  );
}, 120_000);
