import { copyFileSync, existsSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import { EXAMPLE_CAR_STATE } from '../../../core/sheet/carState.ts';
import { tablesOf } from '../../../drivers/store/backupFile.ts';
import { joinTables } from '../../../drivers/store/joinTables.ts';
import { connect } from '../../../drivers/store/open.ts';
import { fetchBackup } from '../../../drivers/store/restoreFetch.ts';
import { RECORDS_FILE } from '../../../drivers/store/storeFiles.ts';
import { factsOf, joined, orderOf, smallDatabase, type Small } from './joinSample.ts';
import {
  idOf,
  openedStore,
  OUTING,
  prepare,
  sampleCapture,
  sampleKept,
  sampleWindow,
  sampleZero,
  VENUE,
} from './sampleRecords.ts';
import { temporaryFolder } from './temporaryFolder.ts';

const only = (dir: string, name: string, ns: readonly number[], says = 'same'): string =>
  smallDatabase(
    dir,
    name,
    ns.map((n) => ({ n, says })),
  );

describe('joining two databases', () => {
  test('what is missing comes, once; the newest of both counts; our own outing goes on', () => {
    const dir = temporaryFolder();
    const a = only(dir, 'a', [1, 4, 6]);
    const b = only(dir, 'b', [2, 4, 7]);
    const { path, report } = joined(dir, a, b);
    expect(report).toEqual({
      added: ['cars', 'kept', 'pads', 'sessions'].map((table) => ({ table, count: 2 })),
      // Record 4: a car, a kept record, a pad and an outing.
      same: 4,
      conflicts: [],
      ahead: 0,
    });
    expect(orderOf(path, 'kept')).toEqual([1, 2, 4, 6, 7].map(idOf));
    expect(orderOf(path, 'cars')).toEqual([1, 2, 4, 6, 7].map(idOf));
    expect(orderOf(path, 'sessions')).toEqual([2, 7, 1, 4, 6].map(idOf));
    expect(factsOf(path)).toEqual(new Set([...factsOf(a), ...factsOf(b)]));
    // Neither was written to.
    expect(orderOf(a, 'kept')).toEqual([1, 4, 6].map(idOf));
    expect(orderOf(b, 'kept')).toEqual([2, 4, 7].map(idOf));
  });

  test('a clock that was set back: each computer’s own newest stays its newest', () => {
    const dir = temporaryFolder();
    // 2 was made after 5, and 3 after 7, by clocks that had been set back.
    const a = only(dir, 'a', [1, 5, 2]);
    const b = only(dir, 'b', [4, 7, 3, 8]);
    expect(orderOf(joined(dir, a, b).path, 'kept')).toEqual([1, 4, 5, 2, 7, 3, 8].map(idOf));
    expect(orderOf(joined(dir, b, a).path, 'kept')).toEqual([1, 4, 5, 2, 7, 3, 8].map(idOf));
  });

  test('captures go on meanwhile: the records in place are only read', () => {
    const dir = temporaryFolder();
    const [a, b] = [only(dir, 'a', [1]), only(dir, 'b', [2])];
    const writer = connect({ path: a, readonly: false, mustExist: true, busyMs: 0 });
    writer.exec('BEGIN IMMEDIATE');
    writer
      .prepare('INSERT INTO pads (id, added_at, serial) VALUES (@id, 0, @id)')
      .run({ id: idOf(9) });
    const { path } = joined(dir, a, b);
    writer.exec('COMMIT');
    writer.close();
    expect(orderOf(path, 'kept')).toEqual([1, 2].map(idOf));
    expect(orderOf(a, 'pads')).toContain(idOf(9));
  });

  test('again: everything is here already, and no file is made', () => {
    const dir = temporaryFolder();
    const b = only(dir, 'b', [2, 3]);
    const once = joined(dir, only(dir, 'a', [1, 2]), b);
    const twice = joined(dir, once.path, b);
    expect(twice.report).toEqual({ added: [], same: 8, conflicts: [], ahead: 0 });
    expect(twice.path).toBe(once.path);
    expect(existsSync(join(dir, 'joined-99.db'))).toBe(false);
  });

  test('one id, two contents: ours counts, theirs is kept beside it and named, once', () => {
    const dir = temporaryFolder();
    const a = only(dir, 'a', [5], 'ours');
    const b = only(dir, 'b', [5], 'theirs');
    const one = joined(dir, a, b);
    expect(one.report).toMatchObject({
      added: [],
      same: 2,
      conflicts: [
        { table: 'cars', id: idOf(5) },
        { table: 'kept', id: idOf(5) },
      ],
    });
    const facts = [...factsOf(one.path)].filter((fact) => fact.startsWith('kept'));
    expect(facts).toHaveLength(2);
    expect(facts.some((fact) => fact.includes('ours'))).toBe(true);
    expect(facts.some((fact) => fact.includes('theirs'))).toBe(true);
    expect(factsOf(joined(dir, b, a).path)).toEqual(factsOf(one.path));
    expect(joined(dir, one.path, b).report).toMatchObject({ added: [], conflicts: [] });

    const db = connect({ path: one.path, readonly: true, mustExist: true, busyMs: 0 });
    const [main] = db.prepare<{ body: string }>(`SELECT body FROM kept WHERE kind = 'gauge'`).all();
    db.close();
    expect(main?.body).toContain('ours');
  });

  test('any three computers, any contents: nothing is lost, in whatever order they are joined', () => {
    const records = fc
      .uniqueArray(
        fc.record({ n: fc.integer({ min: 1, max: 6 }), says: fc.constantFrom('x', 'y', 'z') }),
        { selector: ({ n }) => n, maxLength: 5 },
      )
      // As ids are made: ascending.
      .map((made) => made.toSorted((one, other) => one.n - other.n));
    fc.assert(
      fc.property(records, records, records, (inA: Small[], inB: Small[], inC: Small[]) => {
        const dir = temporaryFolder();
        const a = smallDatabase(dir, 'a', inA);
        const b = smallDatabase(dir, 'b', inB);
        const c = smallDatabase(dir, 'c', inC);
        const all = new Set([a, b, c].flatMap((path) => [...factsOf(path)]));
        const ab = joined(dir, a, b);
        const ba = joined(dir, b, a);
        expect(factsOf(ab.path)).toEqual(factsOf(ba.path));
        expect(orderOf(ab.path, 'cars')).toEqual(orderOf(ba.path, 'cars'));
        const left = joined(dir, ab.path, c);
        const right = joined(dir, a, joined(dir, b, c).path);
        expect(factsOf(left.path)).toEqual(all);
        expect(factsOf(right.path)).toEqual(all);
        expect(orderOf(left.path, 'cars')).toEqual(orderOf(right.path, 'cars'));
        for (const part of [a, b, c, ab.path])
          expect(joined(dir, left.path, part).report).toMatchObject({ added: [], conflicts: [] });
      }),
      { seed: 23, numRuns: 15 },
    );
  });

  test('every table is joined, or named as what a computer is set to', () => {
    const dir = temporaryFolder();
    const path = only(dir, 'a', [1]);
    const db = connect({ path, readonly: true, mustExist: true, busyMs: 0 });
    const tables = joinTables(db);
    expect(tables.map(({ name }) => name)).toEqual(tablesOf(db));
    db.close();
    expect(tables.every(({ key }) => key.length > 0)).toBe(true);
    expect(
      tables.filter(({ order }) => order !== 'by time').map(({ name, order }) => [name, order]),
    ).toEqual([
      ['assignments', 'only here'],
      ['car_choices', 'only here'],
      ['car_states', 'here last'],
      ['sessions', 'here last'],
      ['settings', 'only here'],
      ['source_choices', 'only here'],
      ['venue_choices', 'only here'],
    ]);
  });
});

test('two computers of a team: captures come with their raw windows, the newer car counts, practice stays practice', () => {
  const dirs = [temporaryFolder(), temporaryFolder()] as const;
  const [ours, theirs] = [openedStore(dirs[0], 1), openedStore(dirs[1], 2)];
  prepare(ours);
  ours.saveCapture(sampleCapture(1), sampleWindow(1));
  ours.assign('pad-LF', 'LF');
  ours.close();

  const outing = { ...OUTING, id: idOf(0x777), name: 'Their outing' };
  theirs.saveCar(EXAMPLE_CAR);
  theirs.saveVenue(VENUE);
  theirs.saveCarState(EXAMPLE_CAR_STATE, EXAMPLE_CAR_STATE);
  for (const [n, pad] of ['pad-LF', 'pad-RF', 'pad-LR'].entries())
    theirs.saveZero(sampleZero(n, pad));
  theirs.beginOuting(outing);
  theirs.beginOuting({ ...outing, id: idOf(0x778), name: 'Practice', practice: true });
  const captured = sampleCapture(7, {
    sessionId: outing.id,
    zeroShift: { LF: 0.1, RF: null, LR: 0, RR: -0.2 },
  });
  theirs.saveCapture(captured, sampleWindow(7));
  theirs.setAside(captured.id, true);
  theirs.saveZero({ ...sampleZero(9, 'pad-LF'), id: idOf(0x999), counts: 5 });
  theirs.keep(sampleKept(3, { practice: true }));
  theirs.saveCar({ ...EXAMPLE_CAR, name: 'Heron R2, new floor' });
  theirs.assign('pad-LF', 'RR');
  theirs.close();

  const dir = temporaryFolder();
  const [here, there] = ['here.db', 'there.db'].map((name) => join(dir, name)) as [string, string];
  copyFileSync(join(dirs[0], RECORDS_FILE.name), here);
  fetchBackup(join(dirs[1], RECORDS_FILE.name), there, connect);
  const { path, report } = joined(dir, here, there);
  expect(report.conflicts).toEqual([]);
  copyFileSync(path, join(dirs[0], RECORDS_FILE.name));

  const store = openedStore(dirs[0], 3);
  const { outing: current, practiceOuting, cars, assigned, zeros } = store.load();
  expect(store.captures(OUTING.id)).toEqual([sampleCapture(1)]);
  expect(store.captures(outing.id)).toEqual([{ ...captured, setAside: true }]);
  expect(store.openCapture(captured.id)?.window).toEqual(sampleWindow(7));
  expect(store.kept('mass check')).toEqual([sampleKept(3, { practice: true })]);
  expect(cars.map(({ name }) => name)).toEqual(['Heron R2, new floor']);
  expect(current).toEqual(OUTING);
  expect(practiceOuting?.name).toBe('Practice');
  expect(assigned).toEqual(new Map([['pad-LF', 'LF']]));
  expect(zeros.get('pad-LF')?.counts).toBe(5);
  expect(store.faults).toEqual([]);
  store.close();
});
