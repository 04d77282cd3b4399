import { describe, expect, test } from 'vitest';
import { measured, type Measured } from '../../../core/measured.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import { EXAMPLE_CAR_STATE } from '../../../core/sheet/carState.ts';
import type { Gauge, Reading } from '../../../core/sheet/carRecord.ts';
import { computedReading, type ToCompute } from '../../../core/sheet/computedReading.ts';
import { itemsById, itemsOf, type Item } from '../../../core/sheet/items.ts';
import { itemValue } from '../../../core/sheet/itemValue.ts';
import { stringParts, stringsIn, stringsOf, type Strings } from '../../../core/sheet/strings.ts';
import { readingsWithStrings } from '../../../core/sheet/stringsAgain.ts';
import { WAY_FIELDS, waysOf, wayTaken, type Way } from '../../../core/sheet/ways.ts';
import { CAMBER_GAUGE, freshRecord, read, RULE, sourcesOf } from './sampleRecord.ts';

const DEGREE = Math.PI / 180;
const MINUTE = DEGREE / 60;
const items = itemsById(itemsOf(EXAMPLE_CAR, []));
const itemOf = (id: string): Item => items.get(id) as Item;

const SQUARE: Strings = {
  to: 'chassis',
  frontLeft: 0.3,
  frontRight: 0.3,
  rearLeft: 0.3,
  rearRight: 0.3,
  apart: 2.8,
  wheelbase: null,
  spacingFront: null,
  spacingRear: null,
};

const compute = (
  id: string,
  way: Way,
  about: { readonly parts: Record<string, number> } & Partial<ToCompute> & {
      readonly gauge?: Gauge;
    },
) =>
  computedReading({
    item: itemOf(id),
    way,
    gauge: WAY_FIELDS[way][0]?.quantity === 'length' ? RULE : CAMBER_GAUGE,
    datum: null,
    car: EXAMPLE_CAR,
    state: EXAMPLE_CAR_STATE,
    strings: SQUARE,
    movedSinceSquared: false,
    known: () => null,
    ...about,
  });

const valueOf = (outcome: ReturnType<typeof compute>, id: string): Measured => {
  if (!outcome.ok) throw new Error(outcome.why);
  const found = outcome.result.find(({ item }) => item === id);
  if (!found) throw new Error(`no ${id}`);
  return found.value;
};

describe('camber', () => {
  test('turned round the gauge loses its bias: half the difference', () => {
    // (−3.1 − 2.9)/2 by hand.
    const value = valueOf(
      compute('camber.LF', 'gauge turned round', {
        parts: { reading: -3.1 * DEGREE, 'turned round': 2.9 * DEGREE },
      }),
      'camber.LF',
    );
    expect(value.value).toBeCloseTo(-3 * DEGREE, 12);
    // Two steps of 0.0002 rad, halved: 0.0002/√12/√2.
    expect(value.u).toBeCloseTo(0.0002 / Math.sqrt(24), 12);
  });
  test('its zero is taken off', () => {
    const outcome = compute('camber.RR', 'gauge and its zero', {
      parts: { reading: -2.1 * DEGREE, 'zero of the gauge': 0.1 * DEGREE },
    });
    expect(valueOf(outcome, 'camber.RR').value).toBeCloseTo(-2.2 * DEGREE, 12);
  });
});

describe('toe by string', () => {
  const straight = { 'front of the rim': 0.1815, 'rear of the rim': 0.18 };
  test('1.5 mm over 457 mm is 11.284′ (design check value)', () => {
    const value = valueOf(compute('toe.LF', 'string', { parts: straight }), 'toe.LF');
    expect(value.value / MINUTE).toBeCloseTo(11.284, 3);
  });
  test('the string that runs outward to the front is taken out', () => {
    // 2 mm over 2.8 m: atan(2/2800) = 2.4554′ by hand.
    const outcome = compute('toe.RF', 'string', {
      parts: { 'front of the rim': 0.18, 'rear of the rim': 0.18 },
      strings: { ...SQUARE, frontRight: 0.302 },
    });
    expect(valueOf(outcome, 'toe.RF').value / MINUTE).toBeCloseTo(-2.4554, 3);
  });
  test('the mean of both half turns', () => {
    const outcome = compute('toe.LF', 'string, wheel rolled half a turn', {
      parts: {
        'front of the rim': 0.182,
        'rear of the rim': 0.18,
        'front, rolled half a turn': 0.181,
        'rear, rolled half a turn': 0.18,
      },
    });
    expect(valueOf(outcome, 'toe.LF').value / MINUTE).toBeCloseTo(11.284, 2);
  });
  test('refuses without strings, without a diameter, and where box and car moved apart', () => {
    expect(compute('toe.LF', 'string', { parts: straight, strings: null })).toMatchObject({
      ok: false,
      why: 'Nothing says how the strings stand to the car.',
    });
    expect(
      compute('toe.LF', 'string', {
        parts: straight,
        car: { ...EXAMPLE_CAR, details: null },
      }),
    ).toMatchObject({ ok: false, next: expect.stringMatching(/measuring diameter/) as string });
    expect(
      compute('toe.LF', 'string', {
        parts: straight,
        datum: 'string on the ground',
        movedSinceSquared: true,
      }),
    ).toMatchObject({ ok: false, next: 'Square the strings again and read both wheels.' });
  });
});

describe('caster', () => {
  const parts = {
    'turned out by': 20 * DEGREE,
    'camber turned out': 0.351 * DEGREE,
    'turned in by': 20 * DEGREE,
    'camber turned in': -5.115 * DEGREE,
  };
  test('by the formula from both ends: 7.991° (design check value)', () => {
    expect(
      valueOf(compute('caster.LF', 'sweep', { parts }), 'caster.LF').value / DEGREE,
    ).toBeCloseTo(7.991, 2);
  });
  test('with camber and toe of the record it is exact, and the axis comes with it', () => {
    const outcome = compute('caster.LF', 'sweep', {
      parts,
      known: (id) => measured(id === 'camber.LF' ? -3 * DEGREE : 0, 1e-5, 30),
    });
    expect(valueOf(outcome, 'caster.LF').value / DEGREE).toBeCloseTo(8, 1);
    expect(valueOf(outcome, 'steeringAxis.LF').value / DEGREE).toBeCloseTo(10, 0);
  });
  test('the level asks for what it needs', () => {
    expect(
      compute('steeringAxis.LF', 'level along the wheel', {
        parts: {
          'turned out by': 0.3,
          'level turned out': 0.05,
          'turned in by': 0.3,
          'level turned in': -0.05,
        },
      }),
    ).toMatchObject({ ok: false, why: 'Caster, camber and toe of this wheel are needed for it.' });
  });
});

test('the rack stands off its centre by half the difference of the rods', () => {
  const outcome = compute('rackCentre', 'tie rods', {
    parts: { 'left rod': 0.352, 'right rod': 0.348 },
  });
  expect(valueOf(outcome, 'rackCentre').value).toBeCloseTo(0.002, 12);
});

describe('how it was read is told by its parts', () => {
  test('for every way of every item', () => {
    for (const item of items.values())
      for (const way of waysOf(item)) {
        const of = WAY_FIELDS[way].map(({ what }) => ({ what }));
        const found = wayTaken(of, waysOf(item));
        // Both ways of the locks have the same parts: which side the rack is on is asked again.
        expect(found.replace('behind', 'ahead of')).toBe(way.replace('behind', 'ahead of'));
      }
  });
  test('strings written into a reading are read from it', () => {
    const hubs: Strings = {
      ...SQUARE,
      to: 'hubs',
      wheelbase: 2.7,
      spacingFront: 2.1,
      spacingRear: 2.1,
    };
    for (const strings of [SQUARE, hubs])
      expect(stringsIn({ of: stringParts(strings) })).toEqual(strings);
    expect(stringsIn({ of: [{ what: 'reading', value: 1 }] })).toBeNull();
  });
});

test('strings that are typed later are taken out of the toes read before', () => {
  const outcome = compute('toe.RF', 'string', {
    parts: { 'front of the rim': 0.18, 'rear of the rim': 0.18 },
  });
  const { value, u, dof } = valueOf(outcome, 'toe.RF');
  const record = read(freshRecord(), {
    item: 'toe.RF',
    value,
    gauge: RULE,
    own: { u, dof },
    of: [
      { what: 'front of the rim', value: 0.18 },
      { what: 'rear of the rim', value: 0.18 },
      ...stringParts(SQUARE),
    ],
  });
  expect(stringsOf(record)).toEqual(SQUARE);
  const again = readingsWithStrings(
    record,
    { ...SQUARE, frontRight: 0.302 },
    { car: EXAMPLE_CAR, items, known: () => null },
  );
  expect(again.map(({ id, item }) => [id, item])).toEqual([[record.entries[0]?.id, 'toe.RF']]);
  expect((again[0] as Reading).value / MINUTE).toBeCloseTo(-2.4554, 3);
});

test('a value computed with a gauge of unknown scatter is said to be a lower bound', () => {
  const record = read(freshRecord(), {
    item: 'camber.LF',
    value: -3 * DEGREE,
    gauge: CAMBER_GAUGE,
    own: { u: 1e-4, dof: Infinity },
  });
  expect(itemValue('camber.LF', sourcesOf(record))).toMatchObject({
    unknown: ['scatter of camber gauge'],
  });
});
