import { describe, expect, test } from 'vitest';
import { checkAdjusters, seatPerTurn, type Adjuster } from '../../../core/adjust/adjuster.ts';
import { sheetResponse } from '../../../core/adjust/turnResponse.ts';
import { FLAT_CAR, sixths, standingCar } from './exampleAdjust.ts';

const perch = (change: Partial<Adjuster>): Adjuster => ({
  corner: 'RF',
  kind: 'perch',
  pitches: [1.5e-3],
  motionRatio: 0.95,
  stepsPerTurn: 6,
  countedIn: 'turns',
  underLoad: true,
  room: null,
  ...change,
});

test('one turn is pitch over motion ratio at the wheel', () => {
  expect(seatPerTurn(perch({}))).toBeCloseTo(1.5e-3 / 0.95, 12);
  // Reference values 5.5: 2 mm at a motion ratio of 0.75 is 2.6667 mm at the wheel.
  expect(seatPerTurn(perch({ pitches: [2e-3], motionRatio: 0.75 }))).toBeCloseTo(2.6667e-3, 7);
});

test('the two threads of a push-rod add', () => {
  const rod = perch({ kind: 'push-rod', pitches: [1e-3, 1.25e-3], motionRatio: 0.5 });
  expect(seatPerTurn(rod)).toBeCloseTo(4.5e-3, 12);
});

describe('what cannot be used is refused in words', () => {
  test.each([
    ['no pitch', { pitches: [] }],
    ['no pitch', { pitches: [0] }],
    ['no pitch', { pitches: [1e-3, -1e-3] }],
    ['no pitch', { pitches: [NaN] }],
    ['no motion ratio', { motionRatio: 0 }],
    ['no motion ratio', { motionRatio: null }],
    ['no motion ratio', { motionRatio: Infinity }],
    ['no steps', { stepsPerTurn: 0 }],
    ['no steps', { stepsPerTurn: 2.5 }],
    ['no steps', { room: { up: -1, down: 3 } }],
  ] as const)('%s: %o', (code, change) => {
    const adjusters = { ...sixths(), RF: perch(change) };
    const found = checkAdjusters(adjusters);
    expect(found?.code).toBe(code);
    expect(found?.why).toContain('right front');
    expect(sheetResponse(standingCar(), adjusters, 'off')).toEqual(found);
    expect(() => seatPerTurn(perch(change))).toThrow(RangeError);
  });

  test('no adjuster at all, and a car that would fall over on its springs', () => {
    expect(checkAdjusters({ LF: null, RF: null, LR: null, RR: null })?.code).toBe('no adjusters');
    const soft = { ...FLAT_CAR, cgHeight: 3, wheelRates: { LF: 5e3, RF: 5e3, LR: 5e3, RR: 5e3 } };
    const found = sheetResponse(standingCar(soft), sixths(soft), 'off');
    expect(found).toMatchObject({ ok: false, code: 'not physical' });
  });
});
