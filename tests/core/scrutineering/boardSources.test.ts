import { expect, test } from 'vitest';
import { DEFAULT_SETTINGS } from '../../../core/contract/settings.ts';
import type { KeptPair } from '../../../core/contract/scrutineering.ts';
import { dayOfTime } from '../../../core/format/day.ts';
import { boardSources, wishedOf } from '../../../core/scrutineering/boardSources.ts';
import { newAuthority } from '../../../core/scrutineering/keptScrutineering.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import { captureOf, freshRecord, LEVEL_WEIGHTS, sourcesOf } from '../sheet/sampleRecord.ts';

const ONE = { id: 'one', authority: { ...newAuthority('Larkfell'), wished: 0.95 } };
const OTHER = { id: 'other', authority: newAuthority('Port Sable') };
const pair = (id: string) => ({ id }) as unknown as KeptPair;
const PAIRS = new Map([
  [
    'one',
    [
      { pair: pair('a'), isAside: false },
      { pair: pair('b'), isAside: true },
    ],
  ],
  ['other', [{ pair: pair('c'), isAside: false }]],
]);
const made = (change: Partial<Parameters<typeof boardSources>[0]> = {}) =>
  boardSources({
    on: { car: EXAMPLE_CAR, captures: [], settings: DEFAULT_SETTINGS },
    records: [],
    authorities: [ONE, OTHER],
    pairs: PAIRS,
    chosen: ONE,
    day: 5,
    ...change,
  });

test('pairs of the chosen scrutineers and of the others, none that is set aside', () => {
  expect(made()).toMatchObject({
    authority: { name: 'Larkfell' },
    pairs: [{ id: 'a' }],
    others: [[{ id: 'c' }]],
    day: 5,
  });
  expect(made({ chosen: null })).toMatchObject({
    authority: null,
    pairs: [],
    others: [[{ id: 'a' }], [{ id: 'c' }]],
  });
});

test('free items of the newest record of the car are known, and what it weighed', () => {
  const extra = { id: 'extra.wing', label: 'wing', quantity: 'angle' } as never;
  const record = freshRecord({ extras: [extra] });
  const { items, ourReading } = made({
    records: [sourcesOf(record)],
    on: {
      car: EXAMPLE_CAR,
      captures: [captureOf('c', LEVEL_WEIGHTS)],
      settings: DEFAULT_SETTINGS,
    },
  });
  expect(items.size).toBe(made().items.size + 1);
  const total = items.get('total');
  const reading = total ? ourReading(total) : null;
  // 312.411 + 307.464 + 344.789 + 340.336.
  expect(reading?.is === 'read' ? reading.value.value : null).toBeCloseTo(1305, 6);
});

test('the chance wished for is theirs, or the common one', () => {
  expect(wishedOf(ONE)).toBe(0.95);
  expect(wishedOf(null)).toBe(0.99);
});

test('days are counted from 1970', () => {
  expect(dayOfTime(Date.UTC(1970, 0, 3, 23, 59))).toBe(2);
});
