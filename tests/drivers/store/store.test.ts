import { describe, expect, test } from 'vitest';
import { DEFAULT_SETTINGS } from '../../../core/contract/settings.ts';
import type { Outcome } from '../../../core/bench/ports.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import { EXAMPLE_CAR_STATE, UNCHECKED_CAR_STATE } from '../../../core/sheet/carState.ts';
import { EXAMPLE_VENUES, type Venue } from '../../../core/sheet/venue.ts';
import {
  idOf,
  openedStore,
  OUTING,
  prepare,
  sampleCapture,
  sampleWindow,
  sampleZero,
  WALL,
} from './sampleRecords.ts';
import { temporaryFolder } from './temporaryFolder.ts';

const OK: Outcome = { ok: true };

/** Carries out `first`, closes, and gives what another opening of the same folder finds. */
const reopened = (first: (store: ReturnType<typeof openedStore>) => void) => {
  const dir = temporaryFolder();
  const store = openedStore(dir, 1);
  first(store);
  store.close();
  return openedStore(dir, 2);
};

describe('what the bench is handed at a start', () => {
  test('a new folder remembers nothing', () => {
    const store = openedStore(temporaryFolder());
    expect(store.load()).toEqual({
      settings: null,
      cars: [],
      venues: [],
      carId: null,
      venueId: null,
      carState: null,
      agreedCarState: null,
      source: null,
      outing: null,
      practiceOuting: null,
      assigned: new Map(),
      zeros: new Map(),
    });
    expect(store.faults).toEqual([]);
    store.close();
  });

  test('the newest of everything comes back after a restart', () => {
    const second = { ...EXAMPLE_CAR, id: idOf(7), name: 'Heron R2 spare', cgHeight: null };
    const [larkfell, portSable] = EXAMPLE_VENUES as [Venue, Venue];
    const practice = { id: idOf(9), name: 'Practice', begunAt: WALL + 5, practice: true };
    const newest = { id: idOf(10), name: 'Run 2', begunAt: 2 ** 53 - 1, practice: false };
    const store = reopened((before) => {
      const outcomes = [
        before.saveSettings(DEFAULT_SETTINGS),
        before.saveSettings({ ...DEFAULT_SETTINGS, massUnit: 'lb', cross: 'LF+RR' }),
        before.saveSource('rig'),
        before.saveSource('bluetooth'),
        before.saveCar(EXAMPLE_CAR),
        before.saveCar(second),
        before.saveCar({ ...EXAMPLE_CAR, barFront: 0 }),
        before.saveVenue(portSable),
        before.saveVenue(larkfell),
        before.saveCarState(UNCHECKED_CAR_STATE, EXAMPLE_CAR_STATE),
        before.saveCarState({ ...EXAMPLE_CAR_STATE, fuelMass: 18.25 }, EXAMPLE_CAR_STATE),
        before.beginOuting(OUTING),
        before.beginOuting(newest),
        before.beginOuting(practice),
        before.saveZero(sampleZero(0, 'pad-a')),
        before.saveZero(sampleZero(1, 'pad-a')),
        before.saveZero(sampleZero(2, 'pad-b')),
      ];
      expect(outcomes).toEqual(outcomes.map(() => OK));
    });
    expect(store.load()).toEqual({
      settings: { ...DEFAULT_SETTINGS, massUnit: 'lb', cross: 'LF+RR' },
      cars: [{ ...EXAMPLE_CAR, barFront: 0 }, second],
      venues: [portSable, larkfell],
      carId: EXAMPLE_CAR.id,
      venueId: larkfell.id,
      carState: { ...EXAMPLE_CAR_STATE, fuelMass: 18.25 },
      agreedCarState: EXAMPLE_CAR_STATE,
      source: 'bluetooth',
      outing: newest,
      practiceOuting: practice,
      assigned: new Map(),
      zeros: new Map([
        ['pad-a', sampleZero(1, 'pad-a')],
        ['pad-b', sampleZero(2, 'pad-b')],
      ]),
    });
    expect(store.faults).toEqual([]);
    store.close();
  });

  test('a corner has one pad and a pad one corner, whatever was done before', () => {
    const store = reopened((before) => {
      for (const [serial, corner] of [
        ['a', 'LF'],
        ['b', 'RF'],
        ['c', 'LR'],
        ['d', 'LF'],
        ['b', 'RR'],
        ['c', null],
        ['never assigned', null],
      ] as const)
        expect(before.assign(serial, corner)).toEqual(OK);
    });
    expect(store.load().assigned).toEqual(
      new Map([
        ['d', 'LF'],
        ['b', 'RR'],
      ]),
    );
    store.close();
  });

  test('using a car again without a change adds no version of it', () => {
    const store = reopened((before) => {
      before.saveCar(EXAMPLE_CAR);
      before.saveCar({ ...EXAMPLE_CAR, id: idOf(7) });
      expect(before.saveCar(EXAMPLE_CAR)).toEqual(OK);
    });
    expect(store.load()).toMatchObject({ carId: EXAMPLE_CAR.id });
    expect(store.load().cars.map((car) => car.id)).toEqual([EXAMPLE_CAR.id, idOf(7)]);
    store.close();
  });
});

describe('captures', () => {
  test('come back whole, number for number, after a restart', () => {
    const store = reopened((before) => {
      prepare(before);
      for (const n of [1, 2, 3])
        expect(before.saveCapture(sampleCapture(n), sampleWindow(n))).toEqual(OK);
    });
    expect(store.captures(OUTING.id)).toEqual([3, 2, 1].map((n) => sampleCapture(n)));
    expect(store.openCapture(sampleCapture(2).id)).toEqual({
      capture: sampleCapture(2),
      window: sampleWindow(2),
    });
    expect(store.openCapture(idOf(1))).toBeNull();
    expect(store.captures(idOf(1))).toEqual([]);
    expect(store.faults).toEqual([]);
    store.close();
  });

  test('a zero shift and being set aside are added, and the newest counts', () => {
    const shift = { LF: -0.125, RF: 0, LR: null, RR: 0.25 };
    const given = sampleCapture(3, { zeroShift: shift, setAside: true });
    const store = reopened((before) => {
      prepare(before);
      for (const n of [1, 2]) before.saveCapture(sampleCapture(n), sampleWindow(n));
      expect([
        before.saveCapture(given, sampleWindow(3)),
        before.noteZeroShift(sampleCapture(1).id, { LF: 9, RF: 9, LR: 9, RR: 9 }),
        before.noteZeroShift(sampleCapture(1).id, shift),
        before.setAside(sampleCapture(1).id, true),
        before.setAside(sampleCapture(2).id, true),
        before.setAside(sampleCapture(2).id, false),
      ]).toEqual(Array.from({ length: 6 }, () => OK));
    });
    expect(store.captures(OUTING.id)).toEqual([
      given,
      sampleCapture(2),
      sampleCapture(1, { zeroShift: shift, setAside: true }),
    ]);
    store.close();
  });

  test.each([
    ['a car that was never stored', { carId: idOf(77) }],
    ['a venue that was never stored', { venueId: idOf(77) }],
    ['an outing that was never begun', { sessionId: idOf(77) }],
    ['a key that is no UUIDv7', { id: '0190a0c0-0000-4000-9000-000000000001' }],
    ['a number that is none', { gravity: NaN }],
    ['a covariance with a hole', { covariance: [1, 2, 3] }],
    ['the key of another capture', { id: sampleCapture(1).id }],
  ])('%s is refused and leaves nothing behind', (_what, changes) => {
    const store = reopened((before) => {
      prepare(before);
      before.saveCapture(sampleCapture(1), sampleWindow(1));
      expect(before.saveCapture(sampleCapture(2, changes), sampleWindow(2))).toMatchObject({
        ok: false,
        fault: { code: 'store-failed', subject: 'millpond.db' },
      });
    });
    expect(store.captures(OUTING.id)).toEqual([sampleCapture(1)]);
    store.close();
  });

  test('a zero that was never stored is refused by its foreign key', () => {
    const store = openedStore(temporaryFolder());
    prepare(store);
    const { corners } = sampleCapture(1);
    const changes = { corners: { ...corners, RR: { ...corners.RR, zeroId: idOf(0x2ff) } } };
    expect(store.saveCapture(sampleCapture(1, changes), sampleWindow(1))).toMatchObject({
      ok: false,
      fault: { code: 'store-failed', detail: expect.stringContaining('FOREIGNKEY') as string },
    });
    store.close();
  });

  test('a window whose times and counts do not pair up is refused', () => {
    const store = openedStore(temporaryFolder());
    prepare(store);
    const window = { ...sampleWindow(1), LR: { t: [0, 1], raw: [5] } };
    expect(store.saveCapture(sampleCapture(1), window)).toMatchObject({ ok: false });
    expect(store.captures(OUTING.id)).toEqual([]);
    store.close();
  });
});

test('after closing, writes are refused, reads are empty and a second close does nothing', () => {
  const store = openedStore(temporaryFolder());
  prepare(store);
  store.close();
  store.close();
  expect(store.saveSettings(DEFAULT_SETTINGS)).toMatchObject({
    ok: false,
    fault: { code: 'store-failed' },
  });
  expect(store.captures(OUTING.id)).toEqual([]);
  expect(store.faults).toMatchObject([{ code: 'store-failed' }]);
});
