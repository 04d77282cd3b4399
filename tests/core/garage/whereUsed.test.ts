import { describe, expect, test } from 'vitest';
import { notAside } from '../../../core/garage/notAside.ts';
import { peopleKnown } from '../../../core/garage/peopleKnown.ts';
import { usesInWords, usesOf, type MayUse, type Thing } from '../../../core/garage/whereUsed.ts';
import { CORNERS } from '../../../core/corners.ts';
import type { KeptOf } from '../../../core/contract/kept.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import { EXAMPLE_SHEET } from '../../../core/sheet/exampleSheet.ts';
import { EXAMPLE_MASS_SET } from '../../../core/sheet/massSet.ts';
import { EXAMPLE_VENUES } from '../../../core/sheet/venue.ts';
import { exampleState } from '../../renderer/harness/scenes.ts';
import { captureOf, freshRecord, LEVEL_WEIGHTS, read, RULE } from '../sheet/sampleRecord.ts';

const [LARKFELL, SABLE] = EXAMPLE_VENUES as [
  (typeof EXAMPLE_VENUES)[0],
  (typeof EXAMPLE_VENUES)[0],
];
/** Noon of three days in spring 2026, UTC; the days are written out below. */
const FIRST = Date.UTC(2026, 4, 9, 12);
const SECOND = Date.UTC(2026, 4, 10, 12);
const head = { id: 'x', practice: false } as const;

const reading = (id: string, at: number, setAside = false) => ({
  item: 'height.LF',
  value: 0.065,
  gauge: RULE,
  id,
  at,
  setAside,
  who: 'J',
});
const first = read(
  read(freshRecord({ id: 'one', begunAt: FIRST, venueId: LARKFELL.id }), reading('1', FIRST)),
  reading('2', FIRST, true),
);
const second = read(
  freshRecord({ id: 'two', begunAt: SECOND, venueId: SABLE.id }),
  reading('3', SECOND),
);
const aside = freshRecord({ id: 'three', begunAt: SECOND, venueId: SABLE.id, setAside: true });
const capture = {
  ...captureOf('capture', LEVEL_WEIGHTS),
  takenAt: SECOND,
  venueId: SABLE.id,
  venueName: SABLE.name,
};

const state = { seatMass: null, fuelMass: null, tyres: null };
const pair = (id: string, day: number | null, isAside = false): KeptOf<'pair'> => ({
  ...head,
  kind: 'pair',
  subject: 'scrutineers',
  at: SECOND,
  isAside,
  pair: {
    id,
    item: 'total',
    carId: EXAMPLE_CAR.id,
    event: 'Meridian Trophy',
    label: 'Meridian Trophy',
    day,
    ours: 1300,
    theirs: 1301,
    gravity: null,
    states: { ours: state, theirs: state },
  },
});
const limit = { low: null, high: null };
const plan: KeptOf<'ballast plan'> = {
  ...head,
  kind: 'ballast plan',
  subject: EXAMPLE_CAR.id,
  at: SECOND,
  authorityId: 'scrutineers',
  problem: {
    car: EXAMPLE_CAR,
    loads: { LF: 1, RF: 1, LR: 1, RR: 1 },
    bars: 'on',
    total: limit,
    frontShare: limit,
    leftShare: limit,
    mostBallast: null,
    places: [],
    plates: [
      { id: 'five', name: '5 kg', mass: 5, count: 2 },
      { id: 'two', name: '2 kg', mass: 2, count: 2 },
    ],
  },
  plan: {
    counts: [
      [0, 0],
      [0, 1],
    ],
    worth: { steps: 0, plates: 1, grams: 2000 },
    isProved: true,
    bound: null,
  },
};
const place = { venueId: LARKFELL.id, name: LARKFELL.name, gravity: 9.81 };
const begun: KeptOf<'calibration begun'> = {
  ...head,
  kind: 'calibration begun',
  subject: 'MP-1',
  at: FIRST,
  masses: EXAMPLE_MASS_SET,
  reference: null,
  against: null,
  place,
  rating: null,
};

const kept: MayUse = {
  records: [first, second, aside],
  sheets: [{ ...EXAMPLE_SHEET, writtenAt: FIRST }],
  captures: [capture, { ...capture, id: 'other', setAside: true }],
  lifts: [],
  calibrations: [begun],
  checks: [],
  pairs: [pair('a', 20_582), pair('b', null), pair('c', null), pair('c', null, true)],
  plans: [plan],
  venues: EXAMPLE_VENUES,
};
const words = (thing: Thing) => usesInWords(usesOf(thing, kept));

describe('where used', () => {
  test('a car: by records, sheets, captures, pairs and plans, the newest day first', () => {
    // 20 582 days after 1 January 1970 is 9 May 2026: 1778328000 s / 86400 s.
    expect(words({ is: 'car', id: EXAMPLE_CAR.id })).toEqual({
      counts: '2 records, 1 sheet, 1 capture, 2 pairs and 1 ballast plan',
      days: [
        '2026-05-10, Port Sable: 1 record and 1 capture',
        '2026-05-10: 1 ballast plan',
        '2026-05-09, Larkfell: 1 record',
        `2026-05-09, ${EXAMPLE_SHEET.name} no. ${EXAMPLE_SHEET.number}: 1 sheet`,
        '2026-05-09, Meridian Trophy: 1 pair',
        'day not known, Meridian Trophy: 1 pair',
      ],
    });
  });

  test.each<[string, Thing, string, readonly string[]]>([
    [
      'a venue',
      { is: 'venue', id: LARKFELL.id },
      '1 record and 1 calibration',
      ['2026-05-09, Larkfell: 1 record and 1 calibration'],
    ],
    [
      'a pad by its calibration',
      { is: 'pad', id: 'MP-1' },
      '1 calibration',
      ['2026-05-09, Larkfell: 1 calibration'],
    ],
    [
      'a pad by its captures',
      { is: 'pad', id: capture.corners[CORNERS[0]].padSerial },
      '1 capture',
      ['2026-05-10, Port Sable: 1 capture'],
    ],
    [
      'masses',
      { is: 'mass set', id: EXAMPLE_MASS_SET.id },
      '1 calibration',
      ['2026-05-09, Larkfell: 1 calibration'],
    ],
    [
      'plates in a plan',
      { is: 'plates', id: 'two' },
      '1 ballast plan',
      ['2026-05-10: 1 ballast plan'],
    ],
    ['plates a plan leaves out', { is: 'plates', id: 'five' }, 'nowhere yet', []],
    [
      'an authority',
      { is: 'authority', id: 'scrutineers' },
      '2 pairs and 1 ballast plan',
      [
        '2026-05-10: 1 ballast plan',
        '2026-05-09, Meridian Trophy: 1 pair',
        'day not known, Meridian Trophy: 1 pair',
      ],
    ],
    [
      'a gauge, without readings set aside',
      { is: 'gauge', id: RULE.id },
      '2 readings',
      ['2026-05-10, Port Sable: 1 reading', '2026-05-09, Larkfell: 1 reading'],
    ],
    ['what nobody used', { is: 'car', id: 'none' }, 'nowhere yet', []],
  ])('%s', (_name, thing, counts, days) => {
    expect(words(thing)).toEqual({ counts, days });
  });
});

test('people: as they stand in records, sheets and lowerings', () => {
  const lowering = (person: string): KeptOf<'lowering'> => ({
    ...head,
    kind: 'lowering',
    subject: 'study',
    at: FIRST,
    captureId: 'capture',
    person,
    laying: 1,
  });
  expect(
    peopleKnown({
      entries: [...first.entries, ...second.entries],
      sheets: [{ ...EXAMPLE_SHEET, who: '', released: null }],
      lowerings: [lowering('J'), lowering('A')],
    }),
  ).toEqual([
    { name: 'A', readings: 0, works: 0, sheets: 0, releases: 0, lowerings: 1 },
    { name: 'J', readings: 3, works: 0, sheets: 0, releases: 0, lowerings: 1 },
  ]);
});

test('what is set aside is not offered, unless it is in use', () => {
  const own = { ...EXAMPLE_CAR, id: 'own' };
  const now = exampleState({ car: own, cars: [EXAMPLE_CAR, own] });
  const offered = (ids: readonly string[]): readonly string[] =>
    notAside(now.cars, { ...now, aside: [...ids] }).map(({ id }) => id);
  expect(offered([])).toEqual([EXAMPLE_CAR.id, 'own']);
  expect(offered([EXAMPLE_CAR.id, 'own'])).toEqual(['own']);
});
