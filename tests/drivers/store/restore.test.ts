import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, onTestFinished, test } from 'vitest';
import { DEFAULT_SETTINGS } from '../../../core/contract/settings.ts';
import type { BackupRunning } from '../../../drivers/store/backupRun.ts';
import type { BackupTask } from '../../../drivers/store/backupTask.ts';
import { RECORDS_FILE } from '../../../drivers/store/storeFiles.ts';
import type { Store } from '../../../drivers/store/store.ts';
import { atOnce, copied, copiesOf, madeIn } from './backupSample.ts';
import { CAPTURES, filledAndCut } from './filledFolder.ts';
import { openedStore, OUTING, sampleCapture, sampleKept, sampleWindow } from './sampleRecords.ts';
import { filesOf, temporaryFolder } from './temporaryFolder.ts';

const numbers = (store: Store): readonly number[] =>
  store.captures(OUTING.id).map(({ number }) => number);

/** As the host does it: closed and opened again. */
const again = (store: Store, dir: string, space: number): Store => {
  store.close();
  const opened = openedStore(dir, space);
  onTestFinished(() => opened.close());
  expect(opened.faults).toEqual([]);
  return opened;
};

describe('putting a copy back', () => {
  test('what was captured since is set aside, and can be put back the same way', async () => {
    const { dir, stick, store, copies, capture, starts } = copied(2);
    const name = await madeIn(copies, stick);
    capture(3);
    const restored = await copies.restore({ folder: stick, name });
    if (!restored.ok) throw new Error(restored.detail);
    expect(restored).toMatchObject({ captures: 2 });
    // The bench asks for the new start itself, after its answer; until then nothing is acknowledged.
    expect(starts()).toBe(0);
    expect(store.saveCapture(sampleCapture(4), sampleWindow(4))).toMatchObject({ ok: false });

    const then = again(store, dir, 2);
    expect(numbers(then)).toEqual([2, 1]);
    expect(readdirSync(dir)).toContain(restored.setAside);
    expect(then.saveCapture(sampleCapture(5), sampleWindow(5))).toEqual({ ok: true });

    const { copies: second } = copiesOf(then, dir, atOnce());
    expect(await second.list(null)).toMatchObject({
      ok: true,
      copies: [{ name: restored.setAside, captures: 3 }],
    });
    expect(await second.restore({ folder: null, name: restored.setAside })).toMatchObject({
      ok: true,
      captures: 3,
    });
    const back = again(then, dir, 3);
    expect(numbers(back)).toEqual([3, 2, 1]);
    expect(back.openCapture(sampleCapture(3).id)?.window).toEqual(sampleWindow(3));
    // Both that were set aside are still there, as they were.
    const { copies: third } = copiesOf(back, dir, atOnce());
    expect(await third.list(null)).toMatchObject({ copies: [{ captures: 3 }, { captures: 3 }] });
  });

  test('an old copy does not take the settings of this computer away', async () => {
    const { dir, stick, store, copies } = copied(1);
    const name = await madeIn(copies, stick);
    const settings = { ...DEFAULT_SETTINGS, massUnit: 'lb', copyFolder: stick } as const;
    store.saveSettings(settings);
    await copies.restore({ folder: stick, name });
    expect(again(store, dir, 2).load().settings).toEqual(settings);
  });

  test('a season moves to another computer: its data folder as it is, log and all', async () => {
    const from = filledAndCut();
    expect(existsSync(join(from, `${RECORDS_FILE.name}-wal`))).toBe(true);
    const before = filesOf(from);
    const { dir, store, copies } = copied(0);
    const found = await copies.list(from);
    expect(found).toMatchObject({ copies: [{ name: RECORDS_FILE.name, at: null }] });
    const restored = await copies.restore({ folder: from, name: RECORDS_FILE.name });
    expect(restored).toMatchObject({ ok: true, captures: CAPTURES.length });
    expect(filesOf(from)).toEqual(before);
    expect(numbers(again(store, dir, 4)).toSorted((a, b) => a - b)).toEqual(CAPTURES);
  });

  test('not while another Millpond has it open', async () => {
    const theirs = copied(1);
    const { dir, copies } = copied(1);
    const before = filesOf(dir);
    for (const act of ['restore', 'join'] as const)
      expect(await copies[act]({ folder: theirs.dir, name: RECORDS_FILE.name })).toMatchObject({
        ok: false,
        why: 'in use',
      });
    expect(filesOf(dir)).toEqual(before);
  });

  test('if what is here cannot be set aside, nothing changes and captures go on', () => {
    const { dir, store } = copied(2);
    writeFileSync(join(dir, 'coming'), 'x');
    const aside = join(dir, 'no', 'such', 'folder');
    expect(() => store.inPlace.replaceBy(join(dir, 'coming'), aside)).toThrow(/ENOENT/);
    // Bytes 18 and 19 say that it has a write-ahead log again: readers do not hold captures up.
    expect([...readFileSync(join(dir, RECORDS_FILE.name)).subarray(18, 20)]).toEqual([2, 2]);
    expect(store.saveCapture(sampleCapture(3), sampleWindow(3))).toEqual({ ok: true });
    expect(numbers(again(store, dir, 2))).toEqual([3, 2, 1]);
  });

  test('if the last step fails, a new start finds what was here', async () => {
    const { dir, stick, store, copies } = copied(2);
    const name = await madeIn(copies, stick);
    const lost = copiesOf(store, dir, (task) => {
      const running = atOnce()(task);
      // The prepared file vanishes before it can be renamed.
      return task.do === 'restore' ? vanishing(running, task.coming) : running;
    });
    expect(await lost.copies.restore({ folder: stick, name })).toMatchObject({ ok: false });
    expect(lost.starts()).toBe(1);
    expect(numbers(again(store, dir, 2))).toEqual([2, 1]);
  });

  test('a power cut before the last step: the prepared file is thrown away', () => {
    const { dir, store } = copied(2);
    for (const name of ['millpond-coming.db', 'millpond-coming.db-wal', 'millpond-coming.db.there'])
      writeFileSync(join(dir, name), 'half');
    const then = again(store, dir, 2);
    copiesOf(then, dir, atOnce());
    expect(numbers(then)).toEqual([2, 1]);
    expect(readdirSync(dir).filter((name) => name.includes('coming'))).toEqual([]);
  });
});

describe('joining from the app', () => {
  test('what came is there after the new start, what was here is set aside; again nothing comes', async () => {
    const { dir, store, copies, starts } = copied(1);
    const theirs = filledAndCut();
    const joined = await copies.join({ folder: theirs, name: RECORDS_FILE.name });
    if (!joined.ok) throw new Error(joined.detail);
    expect(joined.report.added).toContainEqual({ table: 'captures', count: 4 });
    const then = again(store, dir, 2);
    expect(numbers(then)).toEqual([5, 4, 3, 2, 1]);
    expect(then.openCapture(sampleCapture(5).id)?.window).toEqual(sampleWindow(5));
    expect(readdirSync(dir)).toContain(joined.setAside);

    const { copies: second } = copiesOf(then, dir, atOnce());
    const before = filesOf(dir);
    expect(await second.join({ folder: theirs, name: RECORDS_FILE.name })).toMatchObject({
      ok: true,
      report: { added: [], conflicts: [] },
      setAside: null,
    });
    expect(filesOf(dir)).toEqual(before);
    expect(starts()).toBe(0);
  });

  test('a capture made meanwhile is not lost: it is joined anew, and refused after three', async () => {
    const theirs = temporaryFolder();
    const filled = openedStore(theirs, 9);
    expect(filled.keep(sampleKept(1))).toEqual({ ok: true });
    filled.close();
    const { dir, store, capture } = copied(1);
    let tasks = 0;
    const during =
      (times: number) =>
      (task: BackupTask): BackupRunning => {
        const running = atOnce()(task);
        if (task.do === 'join' && (tasks += 1) <= times) capture(100 + tasks);
        return running;
      };
    const at = { folder: theirs, name: RECORDS_FILE.name };
    expect(await copiesOf(store, dir, during(99)).copies.join(at)).toMatchObject({
      ok: false,
      why: 'changing',
    });
    expect(tasks).toBe(3);
    expect(readdirSync(dir).filter((name) => name.includes('coming'))).toEqual([]);
    tasks = 0;
    const joined = await copiesOf(store, dir, during(0)).copies.join(at);
    expect(joined).toMatchObject({ ok: true });
    expect(numbers(again(store, dir, 7))).toEqual([103, 102, 101, 1]);
  });
});

/** Ends like another, with its file gone. */
function vanishing(running: BackupRunning, coming: string): BackupRunning {
  return {
    ...running,
    end: running.end.then((outcome) => {
      rmSync(coming);
      return outcome;
    }),
  };
}
