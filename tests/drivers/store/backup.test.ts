import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  copyFileSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { backupName } from '../../../core/bench/backupName.ts';
import { runBackupTask } from '../../../drivers/store/backupRun.ts';
import type { Connect } from '../../../drivers/store/database.ts';
import { connect } from '../../../drivers/store/open.ts';
import { RECORDS_FILE } from '../../../drivers/store/storeFiles.ts';
import { atOnce, copied, copiesOf, madeIn } from './backupSample.ts';
import { garbage, overwrite } from './filledFolder.ts';
import { openedStore, OUTING, sampleCapture, sampleWindow, WALL } from './sampleRecords.ts';
import { filesOf, temporaryFolder } from './temporaryFolder.ts';

/** Runs `then` after a copy was written and before it is looked at, and `first` before it is written. */
const afterWriting =
  (then: (path: string) => void, first: () => void = () => undefined): Connect =>
  (options) => {
    const db = connect(options);
    return {
      ...db,
      prepare: (sql) => {
        const statement = db.prepare(sql);
        if (!sql.startsWith('VACUUM')) return statement as ReturnType<typeof db.prepare<never>>;
        return {
          ...statement,
          run: (values) => {
            first();
            const done = statement.run(values);
            then(String(values?.['into']));
            return done;
          },
        } as ReturnType<typeof db.prepare<never>>;
      },
    };
  };

const failing = (code: string): Connect =>
  afterWriting(() => {
    throw Object.assign(new Error('it failed'), { code });
  });

describe('a copy', () => {
  test('made in a worker while captures go on is whole, alone in its folder, and opens as records', async () => {
    const { store, stick, copies, capture } = copied(2, runBackupTask);
    const making = copies.make(stick);
    for (let n = 3; n < 20; n += 1) {
      capture(n);
      await new Promise((resolve) => setImmediate(resolve));
    }
    const made = await making;
    if (!made.ok) throw new Error(made.detail);
    expect(made).toMatchObject({ isNew: true });
    expect(readdirSync(stick)).toEqual([made.name]);

    const dir = temporaryFolder();
    copyFileSync(join(stick, made.name), join(dir, RECORDS_FILE.name));
    const there = openedStore(dir, 3);
    const captures = there.captures(OUTING.id);
    expect(captures.length).toBeGreaterThanOrEqual(2);
    for (const { id, number } of captures)
      expect(there.openCapture(id)).toEqual({
        capture: sampleCapture(number),
        window: sampleWindow(number),
      });
    expect(there.load().carState).toEqual(store.load().carState);
    there.close();
    expect(store.captures(OUTING.id)).toHaveLength(19);
  });

  test('is made only of what is new; else the newest is read through again', async () => {
    const { stick, copies, capture } = copied();
    const name = await madeIn(copies, stick);
    expect(await copies.make(stick)).toMatchObject({ ok: true, name, isNew: false });
    capture(4);
    const next = await madeIn(copies, stick);
    expect(readdirSync(stick).toSorted()).toEqual([name, next].toSorted());
    expect(await copies.list(stick)).toMatchObject({
      copies: [
        { name: next, captures: 4, machine: 'pit', state: 'looked at' },
        { name, captures: 3 },
      ],
    });
  });

  test('captures made between counting, copying and counting again: those of one moment are in it', async () => {
    const { dir, stick, store, capture } = copied(3);
    const during = atOnce(
      afterWriting(
        () => capture(5),
        () => capture(4),
      ),
    );
    const name = await madeIn(copiesOf(store, dir, during).copies, stick);
    expect(await copiesOf(store, dir, atOnce()).copies.list(stick)).toMatchObject({
      copies: [{ name, captures: 4 }],
    });
  });

  test('a copy that is whole but not of these records is found out', async () => {
    const { dir, stick, store, copies, capture } = copied(1);
    const older = join(stick, await madeIn(copies, stick));
    const other = copied(1);
    // As many records, but another capture among them.
    other.capture(9);
    const elsewhere = join(other.stick, await madeIn(other.copies, other.stick));
    capture(2);
    for (const instead of [older, elsewhere]) {
      const swapped = atOnce(afterWriting((path) => copyFileSync(instead, path)));
      expect(await copiesOf(store, dir, swapped).copies.make(stick)).toMatchObject({
        ok: false,
        why: 'failed',
      });
    }
    expect(readdirSync(stick)).toHaveLength(1);
  });

  test('a damaged newest copy is no copy: a new one is made', async () => {
    const { stick, copies } = copied();
    const name = await madeIn(copies, stick);
    overwrite(join(stick, name), 3 * 4096, garbage(5, 4096));
    expect(await madeIn(copies, stick)).not.toBe(name);
  });

  test('never overwrites: two of one second have two names', async () => {
    const { dir, stick, copies } = copied();
    const taken = backupName({ at: WALL, machine: 'pit' });
    writeFileSync(join(stick, taken), 'something else');
    expect(
      await atOnce()({ do: 'make', dataFolder: dir, folder: stick, machine: 'pit', wallAt: WALL })
        .end,
    ).toMatchObject({ ok: true, name: backupName({ at: WALL, machine: 'pit' }, 2) });
    expect(readFileSync(join(stick, taken), 'utf8')).toBe('something else');
    await copies.stop();
  });

  test('old ones go by the rule; other names and other computers’ copies stay', async () => {
    const { dir, stick } = copied();
    const day = 86_400_000;
    const old = backupName({ at: WALL - 400 * day, machine: 'pit' });
    const others = backupName({ at: WALL - 400 * day, machine: 'garage' });
    for (const name of [old, others, 'photo.jpg', 'millpond.db.bak'])
      writeFileSync(join(stick, name), 'x');
    await atOnce()({ do: 'make', dataFolder: dir, folder: stick, machine: 'pit', wallAt: WALL })
      .end;
    expect(readdirSync(stick).toSorted()).toEqual(
      [others, 'photo.jpg', 'millpond.db.bak', backupName({ at: WALL, machine: 'pit' })].toSorted(),
    );
  });
});

describe('a folder for copies', () => {
  test('must be there, whole, ours to write, and not the records’ own', async () => {
    const { dir, stick, copies } = copied();
    mkdirSync(join(dir, 'within'));
    symlinkSync(dir, join(stick, 'link'));
    writeFileSync(join(stick, 'file'), '');
    const why = async (folder: string): Promise<string> => {
      const looked = await copies.look(folder);
      return looked.ok ? 'ok' : looked.why;
    };
    expect(await why(stick)).toBe('ok');
    expect(await why('copies')).toBe('not a path');
    expect(await why(join(stick, 'gone'))).toBe('no folder');
    expect(await why(join(stick, 'file'))).toBe('no folder');
    for (const own of [
      dir,
      join(dir, 'within'),
      join(stick, 'link'),
      `${dir}/../${dir.split('/').at(-1)}`,
    ])
      expect(await why(own), own).toBe('own folder');
    chmodSync(stick, 0o500);
    // Root may write anywhere.
    if (process.getuid?.() !== 0) expect(await why(stick)).toBe('not writable');
    chmodSync(stick, 0o700);
  });
});

describe('when it goes wrong', () => {
  const attempt = async (using: Connect) => {
    const { dir, stick, store, copies } = copied(3, atOnce(using));
    const made = await copies.make(stick);
    // Captures go on.
    expect(store.saveCapture(sampleCapture(9), sampleWindow(9))).toEqual({ ok: true });
    return { made, dir, stick };
  };

  test.each([
    ['SQLITE_FULL', 'full'],
    ['ENOSPC', 'full'],
    ['SQLITE_IOERR_WRITE', 'failed'],
    ['EIO', 'no folder'],
    ['SQLITE_READONLY', 'not writable'],
  ])('%s midway: said as %j, nothing is left', async (code, why) => {
    const { made, stick } = await attempt(failing(code));
    expect(made).toMatchObject({ ok: false, why });
    expect(readdirSync(stick)).toEqual([]);
  });

  test('the stick pulled midway: said, and when it is back it is copied', async () => {
    const { dir, stick, store } = copied();
    const pulled = copiesOf(
      store,
      dir,
      atOnce(afterWriting(() => rmSync(stick, { recursive: true }))),
    );
    expect(await pulled.copies.make(stick)).toMatchObject({ ok: false, why: 'no folder' });
    expect(await pulled.copies.make(stick)).toMatchObject({ ok: false, why: 'no folder' });
    mkdirSync(stick);
    await madeIn(copiesOf(store, dir, atOnce()).copies, stick);
  });

  test('a stick that writes something else is found out: no copy of it stands', async () => {
    const { made, stick } = await attempt(
      afterWriting((path) => overwrite(path, 5 * 4096, garbage(1, 100))),
    );
    expect(made).toMatchObject({ ok: false, why: 'failed' });
    expect(readdirSync(stick)).toEqual([]);
  });

  test('a stick that forgets the end of it is found out', async () => {
    const { made, stick } = await attempt(afterWriting((path) => truncateSync(path, 8192)));
    expect(made).toMatchObject({ ok: false, why: 'failed' });
    expect(readdirSync(stick)).toEqual([]);
  });

  const child = (dir: string, stick: string, limit: string, how: string) =>
    spawnSync(
      'sh',
      [
        '-c',
        `ulimit -f ${limit}; exec "$0" "$@"`,
        process.execPath,
        join(import.meta.dirname, 'backupChild.ts'),
        dir,
        stick,
        how,
      ],
      { encoding: 'utf8' },
    );

  test.skipIf(process.platform === 'win32')(
    'the system takes only half of the file: said, nothing is left',
    () => {
      const { dir, stick } = copied();
      const { stdout } = child(dir, stick, '200', '');
      expect(JSON.parse(stdout)).toMatchObject({ ok: false, why: 'failed' });
      expect(readdirSync(stick)).toEqual([]);
    },
  );

  test.skipIf(process.platform === 'win32')(
    'killed midway: the half is not taken for a copy, and the next removes it',
    async () => {
      const { dir, stick, copies } = copied();
      const { signal } = child(dir, stick, 'unlimited', 'killed');
      expect(signal).toBe('SIGKILL');
      const half = `${backupName({ at: WALL, machine: 'pit' })}.unfinished`;
      expect(readdirSync(stick)).toEqual([half]);
      expect(await copies.list(stick)).toMatchObject({ ok: true, copies: [] });
      const name = await madeIn(copies, stick);
      expect(readdirSync(stick)).toEqual([name]);
    },
  );

  test('the program ends meanwhile: said, and the captures are untouched', async () => {
    const { dir, stick, copies, store } = copied(3, runBackupTask);
    const before = filesOf(dir);
    const making = copies.make(stick);
    await Promise.resolve();
    await copies.stop();
    const made = await making;
    if (!made.ok) expect(made.why).toBe('ending');
    expect(await copies.make(stick)).toMatchObject({ ok: false, why: 'ending' });
    expect(filesOf(dir)).toEqual(before);
    expect(store.captures(OUTING.id)).toHaveLength(3);
  });
});

describe('what is found in a folder', () => {
  test('is said as it is: damaged, newer, foreign; links are not followed', async () => {
    const { dir, stick, copies } = copied();
    const whole = await madeIn(copies, stick);
    const bytes = readFileSync(join(stick, whole));
    const at = (hour: number): string =>
      backupName({ at: WALL - hour * 3_600_000, machine: 'old' });
    const put = (hour: number, change: (path: string) => void): void => {
      writeFileSync(join(stick, at(hour)), bytes);
      change(join(stick, at(hour)));
    };
    const pragma = (sql: string) => (path: string) => {
      const db = connect({ path, readonly: false, mustExist: true, busyMs: 0 });
      db.exec(sql);
      db.close();
    };
    put(1, (path) => truncateSync(path, 0));
    put(2, (path) => truncateSync(path, 6 * 4096));
    put(3, (path) => writeFileSync(path, 'no database at all, only words and words and words'));
    put(4, pragma('PRAGMA user_version = 99'));
    put(5, pragma('PRAGMA application_id = 1'));
    put(6, (path) => overwrite(path, 9 * 4096, garbage(3, 4096)));
    put(7, pragma('PRAGMA journal_mode = WAL'));
    put(9, pragma('CREATE TRIGGER theirs AFTER INSERT ON pads BEGIN SELECT 1; END'));
    symlinkSync(join(dir, RECORDS_FILE.name), join(stick, at(8)));
    writeFileSync(join(stick, 'season.db'), bytes);

    const states = async (): Promise<Record<string, string>> => {
      const found = await copies.list(stick);
      if (!found.ok) throw new Error(found.why);
      return Object.fromEntries(found.copies.map(({ name, state }) => [name, state]));
    };
    const first = await states();
    expect(first).toMatchObject({
      [whole]: 'looked at',
      [at(1)]: 'damaged',
      [at(2)]: 'damaged',
      [at(3)]: 'damaged',
      [at(4)]: 'newer',
      [at(5)]: 'damaged',
    });
    expect(Object.keys(first)).not.toContain(at(8));
    expect(Object.keys(first)).not.toContain('season.db');

    // Read through, damage in the midst shows as well; what was read through once is remembered.
    const check = async (name: string) => {
      const checked = await copies.check({ folder: stick, name });
      return checked.ok ? checked.copy.state : checked.why;
    };
    expect(await check(at(6))).toBe('damaged');
    expect(await check(at(7))).toBe('damaged');
    expect(await check(at(8))).toBe('no copy');
    expect(await check(at(9)), 'a trigger of somebody else').toBe('damaged');
    expect(await check(whole)).toBe('checked');
    expect(await states()).toMatchObject({ [whole]: 'checked' });
    overwrite(join(stick, whole), 9 * 4096, garbage(4, 4096));
    expect((await states())[whole]).not.toBe('checked');

    // None of them can take the records' place.
    const before = filesOf(dir);
    for (const hour of [1, 2, 3, 4, 5, 6, 7, 8, 9])
      for (const act of ['restore', 'join'] as const) {
        const outcome = await copies[act]({ folder: stick, name: at(hour) });
        expect(outcome, `${act} ${hour}`).toMatchObject({ ok: false });
        if (!outcome.ok) expect(['damaged', 'newer', 'no copy']).toContain(outcome.why);
      }
    for (const name of ['season.db', '../millpond.db', 'millpond.db'])
      expect(await copies.restore({ folder: stick, name })).toMatchObject({ why: 'no copy' });
    expect(await copies.restore({ folder: null, name: 'millpond.db' })).toMatchObject({
      why: 'no copy',
    });
    expect(filesOf(dir)).toEqual(before);
  });
});
