import { describe, expect, test } from 'vitest';
import {
  adjustmentNow,
  plannedNow,
  withStepDone,
  withSteps,
} from '../../../core/adjust/adjustment.ts';
import { keptHeights } from '../../../core/adjust/targets.ts';
import { adjustStanding, lastAdjustment } from '../../../core/answers/adjustStanding.ts';
import type { Adjustment } from '../../../core/contract/adjustment.ts';
import type { KeptOf } from '../../../core/contract/kept.ts';
import { perCorner, type PerCorner } from '../../../core/corners.ts';
import type { Car } from '../../../core/sheet/car.ts';
import { EXAMPLE_CAR_DETAILS } from '../../../core/sheet/exampleCarDetails.ts';
import { carWith, NONE, readingAt, SIXTHS, targetsOf } from '../adjust/exampleAdjust.ts';

const CAR = carWith(SIXTHS);
const begunAt = (turns: Partial<PerCorner<number>>): Adjustment => ({
  carId: CAR.id,
  targets: targetsOf({ heights: keptHeights(CAR, 3e-4) }),
  bars: 'off',
  friction: 0,
  start: {
    ...readingAt(perCorner((corner) => ((turns[corner] ?? 0) * 0.0015) / CAR.motionRatios[corner])),
    heights: [null, null, null, null],
  },
  prior: null,
  rounds: [],
  choice: 'heights kept',
  open: null,
  learnt: null,
  isOver: false,
});
const OFF = begunAt({ RF: -1, RR: 0.5 });
const said = (adjustment: Adjustment | null, car: Car = CAR): string => {
  const { tone, about } = adjustStanding({ car, adjustment, massUnit: 'kg' });
  return `${tone}: ${about}`;
};
const called = (car: Car): Adjustment => {
  const now = plannedNow(car, OFF);
  if (!now.ok) throw new Error(now.why);
  return withSteps(OFF, { ...NONE, RF: 6 }, now.adjusters);
};

describe('where adjusting stands', () => {
  test('none begun, or a car that cannot be adjusted', () => {
    expect(said(null)).toBe('wait: not begun');
    // The sheet of this car says of no corner how it is turned.
    expect(said(null, carWith(null))).toBe('wait: no adjusters');
    expect(said(OFF, carWith(null))).toBe('wait: no adjusters');
  });
  test('a plan', () => {
    expect(said(OFF)).toMatch(/^calm: planned /u);
  });
  test('a call under way, then the reading', () => {
    const open = called(CAR);
    expect(said(open)).toBe('calm: call RF 6');
    expect(said(withStepDone(open))).toMatch(/^wait: (settle|judge)$/u);
  });
  test('the car has to be raised first', () => {
    expect(
      said(
        called(carWith({ ...SIXTHS, underLoad: false })),
        carWith({ ...SIXTHS, underLoad: false }),
      ),
    ).toBe('wait: raise');
  });
  test('a corner whose adjuster is gone since it was called', () => {
    const without: Car = {
      ...CAR,
      details: {
        ...EXAMPLE_CAR_DETAILS,
        adjusters: perCorner((corner) => (corner === 'RF' ? null : SIXTHS)),
      },
    };
    expect(said(called(CAR), without)).toBe('wait: no adjusters');
  });
});

test('what is planned is the same with and without the look at disagreement', () => {
  const whole = adjustmentNow(CAR, OFF);
  expect(whole).toEqual({ ...plannedNow(CAR, OFF), disagreement: null });
});

test('the newest telling of the car in hand counts', () => {
  const kept = ['a', 'b', 'other'].map((id) => ({
    id,
    adjustment: { ...OFF, carId: id === 'other' ? 'other' : CAR.id },
  })) as unknown as readonly KeptOf<'adjustment'>[];
  expect(lastAdjustment(kept, CAR.id)?.id).toBe('b');
  expect(lastAdjustment([], CAR.id)).toBeNull();
});
