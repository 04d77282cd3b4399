import { describe, expect, test } from 'vitest';
import { createRandom } from '../../../drivers/pads/rig/random.ts';
import {
  carRecordSchema,
  timeToSheet,
  walkAsWalked,
  type CarRecord,
} from '../../../core/sheet/carRecord.ts';
import { itemValue } from '../../../core/sheet/itemValue.ts';
import { walkProgress } from '../../../core/sheet/nextInWalk.ts';
import { staleItems } from '../../../core/sheet/stale.ts';
import { walkOf } from '../../../core/sheet/walk.ts';
import {
  CAMBER_GAUGE,
  captureOf,
  freshRecord,
  LEVEL_WEIGHTS,
  read,
  RULE,
  SCALE,
  sourcesOf,
  weighed,
  work,
} from './sampleRecord.ts';

const valueIn = (
  record: CarRecord,
  id: string,
  captures = [] as ReturnType<typeof captureOf>[],
) => {
  const value = itemValue(id, sourcesOf(record, captures));
  if (value.is === 'missing') throw new Error(value.why);
  return value;
};
const readAll = (item: string, values: readonly number[], gauge = RULE): CarRecord =>
  values.reduce((record, value) => read(record, { item, value, gauge }), freshRecord());

/** The record with a reading or capture set aside, or taken back in. */
const withAside = (record: CarRecord, entryId: string, setAside: boolean): CarRecord => ({
  ...record,
  entries: record.entries.map((entry) =>
    entry.id === entryId && entry.is !== 'work' ? { ...entry, setAside } : entry,
  ),
});

describe('the record', () => {
  test('is stored and read, infinite degrees of freedom with it', () => {
    const record = work(
      read(freshRecord(), { item: 'height.LF', value: 0.065, gauge: RULE }),
      'fuel',
    );
    expect(carRecordSchema.parse(JSON.parse(JSON.stringify(record)))).toEqual(record);
  });

  test('a reading without its gauge, or two entries of one id, are refused', () => {
    const record = read(freshRecord(), { item: 'height.LF', value: 0.065, gauge: RULE });
    expect(carRecordSchema.safeParse({ ...record, gauges: [] }).success).toBe(false);
    const { entries } = record;
    expect(
      carRecordSchema.safeParse({ ...record, entries: [...entries, ...entries] }).success,
    ).toBe(false);
  });

  test('time to the sheet: the monotonic clock, else the wall clock and said so', () => {
    const timer = { carInAt: 1000, sheetReadyAt: 201_000, seconds: 198.5 };
    expect(timeToSheet(freshRecord({ timer }))).toEqual({ seconds: 198.5, clock: 'monotonic' });
    expect(timeToSheet(freshRecord({ timer: { ...timer, seconds: null } }))).toEqual({
      seconds: 200,
      clock: 'wall',
    });
    expect(timeToSheet(freshRecord())).toBeNull();
  });
});

describe('value of an item', () => {
  test('one reading: scatter known beforehand and the gauge’s own error', () => {
    const { value, unknown } = valueIn(readAll('height.LF', [0.065]), 'height.LF');
    // √(0.3² + 0.2²) mm; Welch–Satterthwaite by hand: 0.13²/(0.09²/8) = 16.69.
    expect(value.value).toBe(0.065);
    expect(value.u).toBeCloseTo(Math.sqrt(0.13) * 1e-3, 12);
    expect(value.dof).toBeCloseTo(0.13 ** 2 / (0.09 ** 2 / 8), 6);
    expect(unknown).toEqual([]);
  });

  test('repeats: scatter pooled with what is seen, over n; the gauge’s error stays', () => {
    const { value, count } = valueIn(readAll('height.LF', [0.065, 0.066, 0.0645]), 'height.LF');
    // Mean 65.1667 mm; Σ(x − x̄)² = 1.16667 mm²; (8·0.09 + 1.16667)/10 = 0.188667 mm²; over 3, plus 0.04.
    expect(count).toBe(3);
    expect(value.value).toBeCloseTo(0.0651666667, 10);
    expect(value.u * 1e3).toBeCloseTo(Math.sqrt(0.1886667 / 3 + 0.04), 5);
  });

  test('equal readings say no more than the step of the gauge, and what is unknown is named', () => {
    const one = valueIn(readAll('camber.LF', [-0.05], CAMBER_GAUGE), 'camber.LF');
    expect(one.value.u).toBeCloseTo(0.0002 / Math.sqrt(12), 12);
    expect(one.unknown).toEqual(['scatter of camber gauge', 'error of camber gauge']);
    const four = valueIn(
      readAll('camber.LF', [-0.05, -0.05, -0.05, -0.05], CAMBER_GAUGE),
      'camber.LF',
    );
    expect(four.value.u).toBeCloseTo(0.0002 / Math.sqrt(12), 12);
    expect(four.unknown).toEqual(['error of camber gauge']);
  });

  test('a value computed of several readings keeps its own uncertainty', () => {
    const own = { u: 4e-4, dof: 12 };
    const record = read(freshRecord(), {
      item: 'toe.LF',
      value: 0.0032,
      gauge: SCALE,
      own,
      of: [{ what: 'front distance', value: 0.1015 }],
    });
    expect(valueIn(record, 'toe.LF').value).toEqual({ value: 0.0032, ...own });
    const twice = valueIn(
      read(record, { item: 'toe.LF', value: 0.0034, gauge: SCALE, own }),
      'toe.LF',
    );
    // s = 0.0002/√2 of two, over √2: 1e-4, on top of 4e-4.
    expect(twice.value.u).toBeCloseTo(Math.hypot(4e-4, 1e-4), 12);
  });

  test('a reading set aside stays in the record and does not count; both stay when both are kept', () => {
    const questioned = 'Far from its target. Read again: both readings are kept.';
    const first = read(freshRecord(), { item: 'height.LF', value: 0.095, gauge: RULE, questioned });
    const both = read(first, { item: 'height.LF', value: 0.065, gauge: RULE });
    expect(valueIn(both, 'height.LF').value.value).toBeCloseTo(0.08, 12);
    const aside = withAside(both, 'entry-1', true);
    expect(aside.entries).toHaveLength(2);
    expect(valueIn(aside, 'height.LF')).toMatchObject({ count: 1, value: { value: 0.065 } });
    expect(withAside(aside, 'entry-1', false)).toEqual(both);
  });

  test('weights come from the newest capture, cross % in the diagonal asked for', () => {
    const captures = [
      captureOf('c1', { LF: 300, RF: 300, LR: 350, RR: 350 }),
      captureOf('c2', LEVEL_WEIGHTS, 'LF+RR'),
    ];
    const record = weighed(weighed(freshRecord(), 'c1'), 'c2');
    expect(valueIn(record, 'weight.LF', captures)).toMatchObject({
      count: 1,
      value: { value: 312.411, u: 0.02 },
    });
    expect(valueIn(record, 'total', captures).value.value).toBeCloseTo(1305, 9);
    // (307.464 + 344.789)/1305, though the capture has the other diagonal.
    expect(valueIn(record, 'crossShare', captures).value.value).toBeCloseTo(652.253 / 1305, 9);
    const gone = itemValue('weight.LF', sourcesOf(record, []));
    expect(gone).toEqual({ is: 'missing', why: 'The capture is not here.' });
  });

  test('lowerings said to be repeats are averaged, back to the first of them', () => {
    const at = (LF: number) => ({ ...LEVEL_WEIGHTS, LF });
    const captures = [captureOf('a', at(100)), captureOf('b', at(312)), captureOf('c', at(312.6))];
    const record = weighed(weighed(weighed(freshRecord(), 'a'), 'b'), 'c', true);
    const found = valueIn(record, 'weight.LF', captures);
    // s = 0.6/√2, over √2: 0.3 kg with one degree of freedom.
    expect(found.value).toEqual({ value: 312.3, u: expect.closeTo(0.3, 9) as number, dof: 1 });
    // The first of the two set aside: the repeat is not joined to what came before it.
    const aside = valueIn(withAside(record, 'entry-2', true), 'weight.LF', captures);
    expect(aside).toMatchObject({ count: 1, value: { value: 312.6 } });
  });

  test('corner weights typed by hand give total and shares', () => {
    const scale = {
      ...RULE,
      id: 'scales',
      quantity: 'mass' as const,
      resolution: 0.5,
      scatter: { u: 0.5, dof: Infinity },
      shared: { u: 0, dof: Infinity },
    };
    const record = Object.entries({ LF: 312.4, RF: 298.6, LR: 341.2, RR: 327.8 }).reduce(
      (all, [corner, value]) => read(all, { item: `weight.${corner}`, value, gauge: scale }),
      freshRecord(),
    );
    // Reference case: 47.734375 %, 51.0625 %, 49.984375 %; u = 0.5 kg gives 0.0390625 points of cross.
    expect(valueIn(record, 'frontShare').value.value).toBeCloseTo(0.47734375, 10);
    expect(valueIn(record, 'leftShare').value.value).toBeCloseTo(0.510625, 10);
    const cross = valueIn(record, 'crossShare').value;
    expect(cross.value).toBeCloseTo(0.49984375, 10);
    expect(cross.u).toBeCloseTo(0.000390625, 9);
    expect(valueIn(record, 'total').value).toMatchObject({
      value: expect.closeTo(1280, 9) as number,
      u: expect.closeTo(1, 9) as number,
    });
  });

  test('what is missing says so', () => {
    expect(itemValue('toe.LF', sourcesOf(freshRecord()))).toEqual({
      is: 'missing',
      why: 'Not measured yet.',
    });
    expect(itemValue('thrust', sourcesOf(freshRecord()))).toEqual({
      is: 'missing',
      why: 'left rear toe: Not measured yet.',
    });
    expect(itemValue('total', sourcesOf(freshRecord()))).toMatchObject({ is: 'missing' });
    expect(itemValue('wing', sourcesOf(freshRecord()))).toMatchObject({ is: 'missing' });
  });

  test('an error that a gauge shares adds up in total toe, cancels in thrust and rake: by simulation', () => {
    const random = createRandom(4711);
    const points = ['LF', 'RF', 'LR', 'RR'];
    const got: Record<string, number[]> = { 'totalToe.rear': [], thrust: [], rake: [] };
    const claimed: Record<string, number> = {};
    for (let run = 0; run < 1500; run += 1) {
      const [scaleError, ruleError] = [3e-4 * random.normal(), 2e-4 * random.normal()];
      let record = freshRecord();
      for (const corner of points) {
        record = read(record, {
          item: `toe.${corner}`,
          value: 0.002 + scaleError + 2e-4 * random.normal(),
          gauge: SCALE,
        });
        record = read(record, {
          item: `height.${corner}`,
          value: 0.065 + ruleError + 3e-4 * random.normal(),
          gauge: { ...RULE, resolution: 1e-6 },
        });
      }
      for (const id of Object.keys(got)) {
        const { value } = valueIn(record, id);
        got[id]!.push(value.value);
        claimed[id] = value.u;
      }
    }
    for (const [id, values] of Object.entries(got)) {
      const mean = values.reduce((a, b) => a + b, 0) / values.length;
      const sd = Math.sqrt(values.reduce((a, b) => a + (b - mean) ** 2, 0) / (values.length - 1));
      // The standard deviation of 1500 is known to 1.8 %: four of those.
      expect(Math.abs(sd / claimed[id]! - 1), id).toBeLessThan(0.075);
    }
    // By hand: √(2·2² + (2·3)²)·1e-4 and √(2·(2/2)²)·1e-4.
    expect(claimed['totalToe.rear']).toBeCloseTo(Math.sqrt(44) * 1e-4, 9);
    expect(claimed['thrust']).toBeCloseTo(Math.SQRT2 * 1e-4, 9);
  });
});

describe('stale', () => {
  test('a change marks what it disturbs, and only what was measured', () => {
    const measured = read(
      read(weighed(freshRecord(), 'c1'), { item: 'height.LF', value: 0.065, gauge: RULE }),
      { item: 'wheelbase.left', value: 2.7, gauge: RULE },
    );
    const turned = work(measured, 'height adjuster', { corner: 'RF', amount: 0.5 });
    const { items, ties } = sourcesOf(turned);
    const stale = staleItems(turned, [...items.values()], ties);
    expect([...stale.keys()].toSorted()).toEqual(
      ['crossShare', 'height.LF', 'weight.LF', 'weight.LR', 'weight.RF', 'weight.RR'].toSorted(),
    );
    expect(stale.get('height.LF')).toMatchObject({ what: 'height adjuster', corner: 'RF' });
    expect(valueIn(turned, 'height.LF')).toMatchObject({ stale: true, value: { value: 0.065 } });
  });

  test('measured again it is fresh, and the old reading is not averaged in', () => {
    const again = read(work(readAll('height.LF', [0.065]), 'height adjuster', { corner: 'LF' }), {
      item: 'height.LF',
      value: 0.067,
      gauge: RULE,
    });
    expect(valueIn(again, 'height.LF')).toMatchObject({
      stale: false,
      count: 1,
      value: { value: 0.067 },
    });
  });

  test('what follows from a stale item is stale with it', () => {
    const toes = ['LR', 'RR'].reduce(
      (all, corner) => read(all, { item: `toe.${corner}`, value: 0.002, gauge: SCALE }),
      freshRecord(),
    );
    const linked = work(toes, 'toe link', { corner: 'RR' });
    const { items, ties } = sourcesOf(linked);
    expect([...staleItems(linked, [...items.values()], ties).keys()]).toEqual([
      'toe.RR',
      'totalToe.rear',
      'thrust',
    ]);
    expect(valueIn(linked, 'thrust').stale).toBe(true);
  });
});

describe('the walk', () => {
  const walk = walkOf(
    [...sourcesOf(freshRecord()).items.values()].filter(
      ({ kind }) => kind === 'camber' || kind === 'height',
    ),
    [],
  );

  test('goes on to what is open, after where one stands and then from the beginning', () => {
    const empty = freshRecord();
    expect(walkProgress(empty, walk, null)).toMatchObject({
      done: 0,
      of: 8,
      next: { id: 'height.LF' },
    });
    const some = read(read(empty, { item: 'height.LF', value: 0.06, gauge: RULE }), {
      item: 'camber.RR',
      value: -0.03,
      gauge: CAMBER_GAUGE,
    });
    expect(walkProgress(some, walk, 'camber.LF').next?.id).toBe('height.RF');
    expect(walkProgress(some, walk, 'height.LR').next?.id).toBe('camber.LR');
    expect(walkProgress(some, walk, 'camber.LR').next?.id).toBe('camber.LF');
    expect(walkProgress(some, walk, null).done).toBe(2);
  });

  test('all done: nowhere to go; a change opens it again', () => {
    const all = walk.reduce(
      (record, { id, kind }) =>
        read(record, {
          item: id,
          value: kind === 'camber' ? -0.03 : 0.065,
          gauge: kind === 'camber' ? CAMBER_GAUGE : RULE,
        }),
      freshRecord(),
    );
    expect(walkProgress(all, walk, 'camber.LR')).toEqual({ done: 8, of: 8, next: null });
    const shimmed = work(all, 'camber shim', { corner: 'LF' });
    expect(walkProgress(shimmed, walk, null)).toMatchObject({ done: 3, next: { id: 'height.LF' } });
  });

  test('is remembered as it was walked', () => {
    const record = read(
      read(freshRecord({ walk: ['toe.LF', 'camber.LF', 'height.LF'] }), {
        item: 'height.RR',
        value: 0.06,
        gauge: RULE,
      }),
      { item: 'camber.LF', value: -0.05, gauge: CAMBER_GAUGE },
    );
    expect(walkAsWalked(record)).toEqual(['height.RR', 'camber.LF', 'toe.LF', 'height.LF']);
  });
});
