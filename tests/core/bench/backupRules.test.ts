import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { AGAIN, isBackupDue, LONGEST, QUIET } from '../../../core/bench/backupDue.ts';
import { backupName, machineInName, readBackupName } from '../../../core/bench/backupName.ts';
import { backupsNotKept } from '../../../core/bench/backupsKept.ts';
import { second } from '../../../core/units.ts';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;
/** A Wednesday, 12:00 UTC. */
const NOW = Date.UTC(2026, 5, 10, 12);

describe('names of copies', () => {
  test('read back what was written, for every second of four centuries', () => {
    const seconds = fc.integer({ min: Date.UTC(1970) / 1000, max: Date.UTC(2370) / 1000 });
    fc.assert(
      fc.property(seconds, fc.integer({ min: 1, max: 999 }), (at, again) => {
        const name = backupName({ at: at * 1000, machine: 'pit' }, again);
        expect(readBackupName(name)).toEqual({ at: at * 1000, machine: 'pit' });
        // Independent: the language's own calendar.
        const iso = new Date(at * 1000).toISOString().slice(0, 19).replaceAll(/[-:]/g, '');
        expect(name.startsWith(`millpond-${iso}Z-pit`)).toBe(true);
      }),
      { seed: 7, numRuns: 300 },
    );
  });

  test.each([
    'millpond.db',
    'millpond-20260131T120500Z-.db',
    'millpond-20260131T120500Z-pit.db.unfinished',
    'millpond-20260131T120500Z-pit.db-wal',
    'millpond-20260231T120500Z-pit.db',
    'millpond-20260131T240000Z-pit.db',
    'millpond-20260131T126000Z-pit.db',
    'millpond-damaged-20260131T120500Z.db',
    '../millpond-20260131T120500Z-pit.db',
    'millpond-20260131T120500Z-pit/../x.db',
    'season.db',
    '',
  ])('%j is none', (name) => expect(readBackupName(name)).toBeNull());

  test.each([
    ['Pit-Laptop.local', 'pitlaptop'],
    ['WERKSTATT 2', 'werkstatt2'],
    ['été', 't'],
    ['—', 'computer'],
    ['', 'computer'],
    ['a'.repeat(40), 'a'.repeat(24)],
  ])('a computer called %j is %j in them', (host, machine) =>
    expect(machineInName(host)).toBe(machine),
  );
});

describe('when a copy is due', () => {
  const minutes = (n: number | null) => (n === null ? null : second(n * 60));
  test.each<[first: number | null, last: number, failure: number | null, due: boolean]>([
    [null, 0, null, false],
    [null, 600, null, false],
    [4, 4, null, false],
    [5, 5, null, true],
    [59, 1, null, false],
    [60, 0, null, true],
    [60, 0, 4, false],
    [60, 0, 5, true],
    [5, 5, 1, false],
  ])('first change %s min ago, last %s, failed %s: %s', (first, last, failure, due) =>
    expect(
      isBackupDue({
        firstChange: minutes(first),
        lastChange: second(last * 60),
        failure: minutes(failure),
      }),
    ).toBe(due),
  );
  test('the times are those that are said', () =>
    expect([QUIET, LONGEST, AGAIN]).toEqual([300, 3600, 300]));
});

describe('which copies are kept', () => {
  const named = (age: number, machine = 'pit'): string => backupName({ at: NOW - age, machine });
  const gone = (names: readonly string[]): readonly string[] =>
    backupsNotKept(names, { machine: 'pit', wallAt: NOW });

  test.each<[what: string, ages: readonly number[], removed: readonly number[]]>([
    ['a lone old copy stays', [800 * DAY], []],
    ['all of the last day', [0, MINUTE, HOUR, 2 * HOUR, 23 * HOUR, DAY], []],
    // Of 8 June UTC: 18:00, 06:00; the newest stays.
    ['one of an older day', [0, 42 * HOUR, 54 * HOUR], [54 * HOUR]],
    ['each of several days', [0, 2 * DAY, 3 * DAY, 29 * DAY], []],
    // Weeks of UTC begin on a Thursday (1 January 1970 was one): 23 and 24 April lie in one, the 22nd not.
    ['one of an older week', [0, 47 * DAY, 48 * DAY, 49 * DAY], [48 * DAY]],
    ['nothing of more than a year', [0, 366 * DAY, 400 * DAY], [366 * DAY, 400 * DAY]],
    ['the newest, however old', [366 * DAY, 400 * DAY], [400 * DAY]],
    ['one that is dated later than now', [-3 * DAY, 0, 42 * HOUR], []],
  ])('%s', (_what, ages, removed) =>
    expect(gone(ages.map((age) => named(age))).toSorted()).toEqual(
      removed.map((age) => named(age)).toSorted(),
    ),
  );

  test('another computer’s and foreign files are never removed', () => {
    const others = [400, 401, 402].map((days) => named(days * DAY, 'garage'));
    expect(gone([...others, 'millpond.db', 'photo.jpg', named(0), named(401 * DAY)])).toEqual([
      named(401 * DAY),
    ]);
  });

  test('a year of hourly copies, thinned each time: 24 h, 30 days and a year are covered', () => {
    let names: readonly string[] = [];
    const from = NOW - 400 * DAY;
    for (let at = from; at <= NOW; at += HOUR) {
      names = [...names, backupName({ at, machine: 'pit' })];
      const old = new Set(backupsNotKept(names, { machine: 'pit', wallAt: at }));
      names = names.filter((name) => !old.has(name));
    }
    const ages = names.map((name) => (NOW - readBackupName(name)!.at) / DAY);
    const within = (low: number, high: number): number =>
      ages.filter((age) => age > low && age <= high).length;
    expect(within(-1, 1)).toBe(25);
    expect(within(1, 30)).toBeGreaterThanOrEqual(29);
    expect(within(1, 30)).toBeLessThanOrEqual(30);
    expect(within(30, 365)).toBeGreaterThanOrEqual(47);
    expect(within(30, 365)).toBeLessThanOrEqual(49);
    expect(within(365, Infinity)).toBe(0);
    const sorted = ages.toSorted((a, b) => a - b);
    const holes = sorted.slice(1).map((age, n) => age - (sorted[n] ?? 0));
    expect(Math.max(...holes)).toBeLessThanOrEqual(14);
  });

  test('thinning is a matter of names and time alone: twice is once, any order', () => {
    const ages = fc.array(fc.integer({ min: -DAY, max: 500 * DAY }), { maxLength: 60 });
    fc.assert(
      fc.property(ages, (list) => {
        const names = [...new Set(list.map((age) => named(age)))];
        const removed = new Set(gone(names));
        const left = names.filter((name) => !removed.has(name));
        expect(gone(left)).toEqual([]);
        expect(new Set(gone(names.toReversed()))).toEqual(removed);
        if (names.length > 0) expect(left).toContain(names.toSorted().at(-1));
      }),
      { seed: 11, numRuns: 200 },
    );
  });
});
