import { describe, expect, test } from 'vitest';
import type { KeptOf } from '../../../core/contract/kept.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import type { Gauge } from '../../../core/sheet/carRecord.ts';
import { askedItems, firstWalk, walkOfRecord } from '../../../core/sheet/askedItems.ts';
import { EXAMPLE_SHEET } from '../../../core/sheet/exampleSheet.ts';
import { gaugesFor, gaugesKept, howRead, readWith } from '../../../core/sheet/gaugesKnown.ts';
import { heightOnTyres } from '../../../core/sheet/heightOnTyres.ts';
import { markOf } from '../../../core/sheet/itemMark.ts';
import { itemsById, itemsOf, type Item } from '../../../core/sheet/items.ts';
import { readingQuestion } from '../../../core/sheet/readingQuestion.ts';
import { workInWords } from '../../../core/sheet/workInWords.ts';
import {
  CAMBER_GAUGE,
  captureOf,
  freshRecord,
  GRAVITY,
  LEVEL_WEIGHTS,
  read,
  RULE,
  sourcesOf,
  weighed,
  work,
} from './sampleRecord.ts';

const DEGREE = Math.PI / 180;
const all = itemsOf(EXAMPLE_CAR, []);
const items = itemsById(all);
const itemOf = (id: string): Item => items.get(id) as Item;

describe('what is walked', () => {
  test('is what the sheet asks for, corner by corner, in the usual round', () => {
    const walk = walkOfRecord(all, { record: freshRecord(), sheet: EXAMPLE_SHEET });
    expect(walk.map(({ id }) => id)).toEqual([
      ...['LF', 'RF', 'RR', 'LR'].flatMap((corner) => [
        `height.${corner}`,
        `camber.${corner}`,
        `toe.${corner}`,
      ]),
      'caster.LF',
      'caster.RF',
      'driver',
      'fuel',
    ]);
  });
  test('holds what was read and what the crew put in, without a sheet the usual round', () => {
    const record = read(freshRecord({ walk: ['rackCentre'] }), {
      item: 'droopGap.LR',
      value: 0.04,
      gauge: RULE,
    });
    expect(askedItems(all, { record, sheet: null }).map(({ id }) => id)).toEqual([
      'droopGap.LR',
      'rackCentre',
    ]);
    expect(firstWalk(all, { sheet: null, before: null }).slice(0, 4)).toEqual([
      'height.LF',
      'camber.LF',
      'toe.LF',
      'height.RF',
    ]);
  });
  test('keeps the order of the crew’s last walk; a sheet says what of it is asked', () => {
    const before = ['toe.RR', 'droopGap.LF', 'camber.LF'].reduce(
      (record, item) => read(record, { item, value: 0.01, gauge: RULE }),
      freshRecord(),
    );
    expect(firstWalk(all, { sheet: EXAMPLE_SHEET, before })).toEqual(['toe.RR', 'camber.LF']);
    expect(firstWalk(all, { sheet: null, before })).toEqual(['toe.RR', 'droopGap.LF', 'camber.LF']);
  });
});

test('an item is to do, done, stale, questioned, and settled by a second reading', () => {
  const item = itemOf('camber.LF');
  const gauge = CAMBER_GAUGE;
  const empty = freshRecord();
  expect(markOf(empty, item)).toBe('to do');
  const questioned = read(empty, {
    item: 'camber.LF',
    value: 3 * DEGREE,
    gauge,
    questioned: 'Sign?',
  });
  expect(markOf(questioned, item)).toBe('questioned');
  const settled = read(questioned, { item: 'camber.LF', value: 3 * DEGREE, gauge });
  expect(markOf(settled, item)).toBe('done');
  expect(markOf(work(settled, 'camber shim', { corner: 'LF' }), item)).toBe('stale');
  expect(markOf(work(settled, 'camber shim', { corner: 'RF' }), item)).toBe('done');
});

describe('a question beside the field', () => {
  const item = itemOf('camber.LF');
  const ask = (degrees: number, record = freshRecord(), before = freshRecord()) =>
    readingQuestion(item, {
      reading: readWith(CAMBER_GAUGE, degrees * DEGREE),
      sources: sourcesOf(record),
      before: sourcesOf(before),
      sheet: EXAMPLE_SHEET,
    });
  const reads = (degrees: number, record = freshRecord()) =>
    read(record, { item: 'camber.LF', value: degrees * DEGREE, gauge: CAMBER_GAUGE });

  test('the target of −3° is met, a little off, far off, and with the sign forgotten', () => {
    expect(ask(-3.05)).toBeNull();
    expect(ask(-3.4)).toBeNull();
    expect(ask(-2)).toMatchObject({ farFrom: 'its target', slip: null });
    expect(ask(3)).toMatchObject({ slip: { is: 'the sign' } });
  });
  test('a repeat that agrees is the answer, however far from the target', () => {
    expect(ask(-2.01, reads(-2))).toBeNull();
    expect(ask(-2.6, reads(-2))).toMatchObject({ farFrom: 'its last reading' });
  });
  test('against the record before, unless work was done or other wheels are on', () => {
    const before = reads(-3.4);
    expect(ask(-2.6, freshRecord(), before)).toMatchObject({ farFrom: 'its last reading' });
    const worked = work(freshRecord(), 'camber shim', { corner: 'LF' });
    expect(ask(-2.6, worked, before)).toBeNull();
    const onTyres = { ...before, state: { ...before.state, wheels: 'tyres' as const } };
    expect(ask(-2.6, freshRecord(), onTyres)).toBeNull();
  });
  test('of what is neither length, angle nor mass too', () => {
    const pressure = itemOf('pressure.LF');
    const record = read(freshRecord(), {
      item: 'pressure.LF',
      value: 1.5e5,
      gauge: { ...RULE, id: 'p', quantity: 'pressure', resolution: 1e3 },
    });
    expect(
      readingQuestion(pressure, {
        reading: readWith({ ...RULE, quantity: 'pressure', resolution: 1e3 }, 1.5e4),
        sources: sourcesOf(record),
        before: null,
        sheet: null,
      }),
    ).toMatchObject({ slip: { is: 'the decimal point', meant: 1.5e5 } });
  });
});

describe('gauges', () => {
  const keep = (gauge: Gauge, isAside = false): KeptOf<'gauge'> => ({
    kind: 'gauge',
    id: 'x',
    subject: gauge.id,
    at: 0,
    practice: false,
    gauge,
    isAside,
  });
  test('the newest telling counts, one that is set aside is not offered', () => {
    const better = { ...RULE, resolution: 1e-4 };
    expect(gaugesKept([keep(RULE), keep(CAMBER_GAUGE), keep(better)])).toEqual([
      better,
      CAMBER_GAUGE,
    ]);
    expect(gaugesKept([keep(RULE), keep(RULE, true)])).toEqual([]);
  });
  test('each quantity has one in any garage, of which only the step is known', () => {
    for (const { quantity } of all)
      expect(gaugesFor(quantity, []).at(-1)).toMatchObject({ scatter: null, shared: null });
  });
  test('an item is read as one of its kind was read last, in this record or the one before', () => {
    const own = { ...RULE, id: 'block', name: 'height block' };
    const record = read(freshRecord(), {
      item: 'height.LF',
      value: 0.065,
      gauge: own,
      datum: 'patch',
    });
    const about = { before: null, owned: [RULE, own], items };
    expect(howRead(itemOf('height.RR'), { ...about, record })).toEqual({
      gauge: own,
      datum: 'patch',
    });
    expect(
      howRead(itemOf('height.RR'), { ...about, record: freshRecord(), before: record }),
    ).toEqual({ gauge: own, datum: 'patch' });
    expect(howRead(itemOf('height.RR'), { ...about, record: freshRecord() })).toEqual({
      gauge: RULE,
      datum: 'pad',
    });
  });
  test('one reading has scatter or step, whichever is larger, and the shared error', () => {
    // √(0.3² + 0.2²) mm by hand; and 0.5/√12 where the scatter is smaller.
    expect(readWith(RULE, 0.065).u).toBeCloseTo(Math.hypot(3e-4, 2e-4), 12);
    expect(readWith({ ...RULE, scatter: { u: 1e-5, dof: 3 }, shared: null }, 0.065).u).toBeCloseTo(
      5e-4 / Math.sqrt(12),
      12,
    );
  });
});

test('a height on set-up wheels is shown for the tyres once the car is weighed', () => {
  const height = read(freshRecord(), { item: 'height.LF', value: 0.065, gauge: RULE });
  const about = { car: EXAMPLE_CAR, gravity: GRAVITY };
  expect(heightOnTyres(itemOf('height.LF'), sourcesOf(height), about)).toMatchObject({
    ok: false,
    next: 'Weigh it.',
  });
  const sources = sourcesOf(weighed(height, 'capture-1'), [captureOf('capture-1', LEVEL_WEIGHTS)]);
  const outcome = heightOnTyres(itemOf('height.LF'), sources, about);
  // Tyres are 4 mm smaller in front and 5 mm at the rear: 0.35 m behind the axle of 2.7 m that is
  // 4 + 0.35/2.7 mm lower, by hand.
  expect(outcome?.ok && 1000 * outcome.result.value).toBeCloseTo(65 - 4 - 0.35 / 2.7, 2);
  const onTyres = { ...height, state: { ...height.state, wheels: 'tyres' as const } };
  expect(heightOnTyres(itemOf('height.LF'), sourcesOf(onTyres), about)).toBeNull();
});

test('work is said with its place and amount', () => {
  const said = (changes: Partial<Parameters<typeof workInWords>[0]>) =>
    workInWords(
      { what: 'other', corner: null, axle: null, part: null, amount: null, ...changes },
      (part) => (part === 'nose' ? 'nose box' : part),
    ).replaceAll('\u00a0', ' ');
  expect(said({ what: 'height adjuster', corner: 'RF', amount: 0.5 })).toBe(
    'right front height adjuster, +0.50 turns',
  );
  expect(said({ what: 'bar preload', axle: 'front' })).toBe('front bar preload');
  expect(said({ what: 'ballast', part: 'nose', amount: -2 })).toBe('nose box ballast, −2.0 kg');
  expect(said({ what: 'patch laid again' })).toBe('patch laid again');
});
