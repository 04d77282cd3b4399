import { expect, test } from 'vitest';
import { measured } from '../../../core/measured.ts';
import {
  axleLiftResult,
  axleLiftSchema,
  beginAxleLift,
  type AxleLiftKept,
} from '../../../core/sheet/axleLiftKept.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';

const begun = beginAxleLift(EXAMPLE_CAR, {
  id: 'lift-1',
  begunAt: 0,
  lifted: 'rear',
  mass: measured(1305, 0.1, Infinity),
});

/** Loads of the front axle at 0, 0.3 and 0.6 m: the design's check values for a height of 0.430 m. */
const LOADS = new Map([
  [0, 619.875],
  [0.3, 624.858],
  [0.6, 630.043],
]);
const read: AxleLiftKept = {
  ...begun,
  suspensionLocked: true,
  wheelsFree: true,
  readings: [0, 0.3, 0.6, 0.3, 0].map((lift, index) => ({
    going: index < 3 ? 'up' : 'down',
    lift,
    load: measured(LOADS.get(lift) ?? 0, 0.05, Infinity),
    liftedLoad: null,
  })),
};

test('begins with the radii of the car and three heights up and down', () => {
  expect(begun).toMatchObject({
    radiusStanding: { value: 0.33 },
    radiusLifted: { value: 0.345 },
    wheelbase: { value: 2.7 },
  });
  expect(begun.readings.map(({ lift, going }) => `${going} ${lift}`)).toEqual([
    'up 0',
    'up 0.2',
    'up 0.4',
    'up 0.6',
    'down 0.4',
    'down 0.2',
    'down 0',
  ]);
});

test('gives the height of the design’s check values, and is kept whole', () => {
  const stored = axleLiftSchema.parse(JSON.parse(JSON.stringify(read)));
  expect(stored).toEqual(read);
  const outcome = axleLiftResult(stored);
  expect(outcome.ok && outcome.result.cgHeight.value).toBeCloseTo(0.43, 3);
});

test('says what is missing, step by step', () => {
  expect(axleLiftResult(begun)).toMatchObject({ why: 'There are not enough loads yet.' });
  expect(axleLiftResult({ ...read, mass: null })).toMatchObject({
    next: 'Weigh it with all wheels down.',
  });
  expect(axleLiftResult({ ...read, radiusLifted: null })).toMatchObject({ ok: false });
  expect(axleLiftResult({ ...read, suspensionLocked: false })).toMatchObject({
    next: expect.stringMatching(/rigid links/) as string,
  });
});
