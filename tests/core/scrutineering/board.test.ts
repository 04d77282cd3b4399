import { describe, expect, test } from 'vitest';
import type { Authority, KeptPair } from '../../../core/contract/scrutineering.ts';
import {
  authoritiesKept,
  newAuthority,
  pairsKept,
  platesKept,
} from '../../../core/scrutineering/keptScrutineering.ts';
import {
  limitedItems,
  type BoardItem,
  type BoardSources,
} from '../../../core/scrutineering/limitedItems.ts';
import { offsetInWords } from '../../../core/scrutineering/offsetInWords.ts';
import { ourReading, type OurSources } from '../../../core/scrutineering/ourReading.ts';
import { quantityOf } from '../../../core/scrutineering/quantity.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import { itemsById, itemsOf } from '../../../core/sheet/items.ts';
import {
  CAMBER_GAUGE,
  captureOf,
  freshRecord,
  GRAVITY,
  LEVEL_WEIGHTS,
  read,
  sourcesOf,
  weighed,
} from '../sheet/sampleRecord.ts';
import { near } from './near.ts';

const items = itemsById(itemsOf(EXAMPLE_CAR, []));
const item = (id: string) => {
  const found = items.get(id);
  if (!found) throw new Error(id);
  return found;
};
const sources = (change: Partial<OurSources> = {}): OurSources => ({
  carId: EXAMPLE_CAR.id,
  records: [],
  captures: [],
  cross: 'RF+LR',
  ...change,
});

describe('our newest reading', () => {
  const capture = captureOf('capture-1', LEVEL_WEIGHTS);
  const later = {
    ...captureOf('capture-2', { ...LEVEL_WEIGHTS, LF: 320 }),
    takenAt: capture.takenAt + 60_000,
  };
  const record = read(weighed(freshRecord(), 'capture-1'), {
    item: 'camber.LF',
    value: -0.06,
    gauge: CAMBER_GAUGE,
  });

  test('of the record, with its state, gravity and what is not known', () => {
    const found = ourReading(
      item('camber.LF'),
      sources({ records: [sourcesOf(record, [capture])] }),
    );
    expect(found).toMatchObject({
      is: 'read',
      from: 'record',
      value: { value: -0.06 },
      gravity: null,
      stale: false,
    });
    expect(found.is === 'read' && found.unknown.length).toBeGreaterThan(0);
    expect(
      ourReading(item('total'), sources({ records: [sourcesOf(record, [capture])] })),
    ).toMatchObject({ from: 'record', gravity: GRAVITY, value: { value: near(1305, 3) } });
  });

  test('of a capture taken since; not of another car, and not of one set aside', () => {
    const from = (captures: OurSources['captures']) =>
      ourReading(item('total'), sources({ records: [sourcesOf(record, [capture])], captures }));
    expect(from([later, capture])).toMatchObject({ from: 'capture', at: later.takenAt });
    expect(from([{ ...later, setAside: true }])).toMatchObject({ from: 'record' });
    expect(from([{ ...later, carId: 'another' }])).toMatchObject({ from: 'record' });
  });

  test('of no record that was set aside, nor of another car', () => {
    for (const change of [{ setAside: true }, { carId: 'another' }])
      expect(
        ourReading(item('camber.LF'), sources({ records: [sourcesOf({ ...record, ...change })] })),
      ).toEqual({ is: 'missing', why: 'Not measured yet.' });
    expect(ourReading(item('total'), sources())).toEqual({
      is: 'missing',
      why: 'Not weighed yet.',
    });
  });
});

const state = { seatMass: 80, fuelMass: 20, tyres: null } as const;
const pair = (index: number, change: Partial<KeptPair> = {}): KeptPair => ({
  id: `pair-${index}`,
  item: 'total',
  carId: EXAMPLE_CAR.id,
  event: `event ${index}`,
  label: `event ${index}`,
  day: null,
  ours: 1300,
  theirs: 1300 + [0.8, 1, 1.2][index]!,
  gravity: null,
  states: { ours: state, theirs: state },
  ...change,
});
const three = [pair(0), pair(1), pair(2)];

const board = (
  change: Partial<BoardSources> & { readonly authorityChange?: Partial<Authority> } = {},
): readonly BoardItem[] => {
  const { authorityChange, ...rest } = change;
  const capture = captureOf('capture-1', LEVEL_WEIGHTS);
  return limitedItems({
    car: EXAMPLE_CAR,
    items,
    ourReading: (each) => ourReading(each, sources({ captures: [capture] })),
    authority: {
      ...newAuthority('Meridian Trophy'),
      reads: { seatMass: 82, fuelMass: 3, tyres: 'hot' },
      ...authorityChange,
    },
    pairs: three,
    others: [],
    day: 20_600,
    ...rest,
  });
};
const total = (all: readonly BoardItem[]): BoardItem => all[0] as BoardItem;

describe('what the rules limit', () => {
  test('each item of the car’s rules, ours in their seat and fuel', () => {
    const all = board();
    expect(all.map(({ limited: { id } }) => id)).toEqual(
      EXAMPLE_CAR.details!.ruleLimits.map(({ item: id }) => id),
    );
    expect(total(all).limited).toMatchObject({
      name: 'Total',
      kind: 'total',
      limit: { low: 1290, high: null },
      // 1305 kg with 80 kg and 20 kg on board; they read it with 82 kg and 3 kg.
      ours: near(1305 - 15, 3),
      prediction: { shift: near(1, 9), dof: 2 },
    });
    expect(all[1]?.limited).toMatchObject({ ours: null, prediction: null });
  });

  test('without scrutineers, without pairs, and with what they state', () => {
    expect(total(board({ authority: null })).limited).toMatchObject({
      prediction: null,
      whyNone: expect.stringContaining('add the scrutineers') as unknown,
    });
    expect(total(board({ pairs: [] })).limited).toMatchObject({
      prediction: null,
      whyNone: expect.stringContaining('No pair yet') as unknown,
    });
    const equipment = {
      quantity: 'total',
      step: null,
      stated: null,
      limitOfError: 0.5,
      poolOthers: false,
      followTrend: false,
    };
    const stated = total(board({ pairs: [], authorityChange: { equipment: [equipment] } }));
    expect(stated.known?.basis).toBe('limits of error');
    expect(stated.limited.prediction).toMatchObject({ shift: 0, limit: 0.5 });
    const own = { ...equipment, stated: { difference: -0.3, u: 0.2 } };
    expect(
      total(board({ pairs: [pair(0)], authorityChange: { equipment: [own] } })).known,
    ).toMatchObject({ basis: 'stated', prediction: { shift: -0.3 } });
    // Pairs that tell enough stand above what is stated.
    expect(total(board({ authorityChange: { equipment: [own] } })).known?.basis).toBe('pairs');
  });

  test('one event takes the scatter of other scrutineers, when it is said to be alike', () => {
    const equipment = {
      quantity: 'total',
      step: null,
      stated: null,
      limitOfError: null,
      poolOthers: true,
      followTrend: false,
    };
    const alone = { pairs: [pair(0)], others: [three] };
    expect(total(board(alone)).known?.basis).toBeNull();
    expect(
      total(board({ ...alone, authorityChange: { equipment: [equipment] } })).limited.prediction,
    ).toMatchObject({ shift: near(0.8, 9), dof: 2 });
  });

  test('cambers of all corners are one gauge; a free item stands for itself', () => {
    expect(
      ['camber.LF', 'camber.RR', 'height.nose', 'total', 'extra.wing'].map(quantityOf),
    ).toEqual(['camber', 'camber', 'height', 'total', 'extra.wing']);
    const cambers = [0, 1, 2].map((index) =>
      pair(index, {
        item: 'camber.RR',
        ours: -0.05,
        theirs: -0.05 + [0.001, 0.0012, 0.0009][index]!,
      }),
    );
    expect(board({ pairs: cambers })[1]?.known?.basis).toBe('pairs');
    expect(total(board({ pairs: cambers })).known?.basis).toBeNull();
  });

  test('what is not said is not corrected, and a rule of an item that is gone is kept', () => {
    const reads = { seatMass: null, fuelMass: 3, tyres: null };
    const found = total(board({ authorityChange: { reads } }));
    expect(found.limited.ours).toBeCloseTo(1305, 3);
    expect(found.notes).toContain(
      'Seat or fuel is not said for both readings: the total is not corrected for them.',
    );
    const gone = board({ items: new Map() });
    expect(total(gone).limited).toMatchObject({
      id: 'total',
      ours: null,
      whyNone: 'This car has no such item.',
    });
  });
});

test('what pairs tell, in words', () => {
  const wanted = { kind: 'mass', unit: 'kg' } as const;
  const words = (change: Parameters<typeof board>[0]): string =>
    offsetInWords(total(board(change)).known!, wanted, 0.95)
      .join(' ')
      .replaceAll('\u00a0', ' ');
  // t(0.975; 2) = 4.303, s = 0.2, √(1 + 1/3): ±0.99 kg.
  expect(words({})).toMatch(
    /3 pairs of 3 events: theirs less ours is \+1\.00 kg on the mean\. Their next reading less ours will be \+1\.0 kg ±1\.0 kg, with the wished confidence\./u,
  );
  expect(words({})).toContain('No event has two pairs');
  expect(words({ pairs: [] })).toMatch(/^No pair yet\./u);
});

test('kept records: the newest telling counts, what is set aside stays', () => {
  const head = { id: 'x', at: 0, practice: false } as const;
  const authority = newAuthority('Meridian Trophy');
  const told = { ...head, kind: 'authority' as const, subject: 'a', authority, isAside: false };
  expect(
    authoritiesKept([told, { ...told, authority: { ...authority, name: 'Others' } }]),
  ).toMatchObject([{ id: 'a', authority: { name: 'Others' } }]);
  expect(authoritiesKept([told, { ...told, isAside: true }])).toEqual([]);
  const kept = { ...head, kind: 'pair' as const, subject: 'a', pair: pair(0), isAside: false };
  const both = pairsKept([kept, { ...kept, pair: pair(1) }, { ...kept, isAside: true }]).get('a');
  expect(both?.map((each) => [each.pair.id, each.isAside])).toEqual([
    ['pair-0', true],
    ['pair-1', false],
  ]);
  const size = (id: string, mass: number, count: number) => ({
    ...head,
    kind: 'plates' as const,
    subject: id,
    size: { id, name: id, mass, count },
  });
  expect(platesKept([size('five', 5, 1), size('one', 1, 2), size('five', 5, 3)])).toMatchObject([
    { mass: 1, count: 2 },
    { mass: 5, count: 3 },
  ]);
});
