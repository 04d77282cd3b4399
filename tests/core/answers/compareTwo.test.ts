import { expect, test } from 'vitest';
import {
  comparableRecords,
  comparedAnswer,
  compareTwo,
  pairOf,
  type CompareFrom,
} from '../../../core/answers/compareTwo.ts';
import { DEFAULT_SETTINGS } from '../../../core/contract/settings.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import type { CarRecord } from '../../../core/sheet/carRecord.ts';
import {
  captureOf,
  freshRecord,
  GRAVITY,
  LEVEL_WEIGHTS,
  sourcesOf,
  weighed,
} from '../sheet/sampleRecord.ts';

const recordOf = (id: string, change: Partial<CarRecord> = {}): CarRecord =>
  weighed(freshRecord({ id, ...change }), `of ${id}`);
const NOBODY = { beforeId: null, afterId: null };
const compared = (
  records: readonly CarRecord[],
  weights: Readonly<
    Record<string, typeof LEVEL_WEIGHTS | Record<keyof typeof LEVEL_WEIGHTS, number>>
  > = {},
) => {
  const from: CompareFrom = {
    car: EXAMPLE_CAR,
    gravity: GRAVITY,
    settings: DEFAULT_SETTINGS,
    records,
    sheets: [],
    sourcesOf: (record) =>
      sourcesOf(record, [captureOf(`of ${record.id}`, weights[record.id] ?? LEVEL_WEIGHTS)]),
    scatter: { repeat: null, laying: null },
    adjustments: [],
    surveys: [],
    massChecks: [],
  };
  return comparedAnswer(
    compareTwo(from, pairOf(comparableRecords(records, EXAMPLE_CAR.id), NOBODY)),
  );
};

test('two records are needed', () => {
  expect(compared([])).toMatchObject({ about: 'too few', tone: 'wait' });
  expect(compared([recordOf('a')])).toMatchObject({ about: 'too few', tone: 'wait' });
  expect(
    compared([recordOf('a', { setAside: true }), recordOf('b'), recordOf('c', { carId: 'other' })]),
  ).toMatchObject({ about: 'too few' });
});

test('the newest two are compared where nobody chose', () => {
  const moved = { LF: 322.411, RF: 297.464, LR: 334.789, RR: 350.336 };
  const [a, b, c] = [recordOf('a'), recordOf('b'), recordOf('c')] as const;
  // Unchanged weights are no change; 10 kg along the diagonals are far beyond any lowering.
  expect(compared([a, b, c], { a: moved }).tone).not.toBe('alarm');
  expect(compared([a, b, c], { c: moved }).tone).toBe('alarm');
});

test('what was chosen is taken, and another in the place of what is not there', () => {
  const own = comparableRecords([recordOf('a'), recordOf('b'), recordOf('c')], EXAMPLE_CAR.id);
  const ids = (beforeId: string | null, afterId: string | null) => {
    const { before, after } = pairOf(own, { beforeId, afterId });
    return [before?.id, after?.id];
  };
  expect(ids(null, null)).toEqual(['b', 'c']);
  expect(ids('a', null)).toEqual(['a', 'c']);
  expect(ids(null, 'b')).toEqual(['c', 'b']);
  expect(ids('gone', 'gone')).toEqual(['b', 'c']);
});
