import { describe, expect, test } from 'vitest';
import {
  adjustmentNow,
  choiceOf,
  cornersCalled,
  historyOf,
  lastReading,
  learntOf,
  stepOf,
  withCallLeft,
  withReading,
  withStepDone,
  withSteps,
  withUndo,
  type AdjustmentNow,
} from '../../../core/adjust/adjustment.ts';
import { cornerTold } from '../../../core/adjust/cornerTold.ts';
import type { Choice } from '../../../core/adjust/plan.ts';
import type { AdjustReading } from '../../../core/adjust/reading.ts';
import { restBand } from '../../../core/adjust/restBand.ts';
import { keptHeights } from '../../../core/adjust/targets.ts';
import { adjustmentSchema, type Adjustment } from '../../../core/contract/adjustment.ts';
import { CORNERS, perCorner, type Corner, type PerCorner } from '../../../core/corners.ts';
import type { Car } from '../../../core/sheet/car.ts';
import { carWith, NONE, readingAt, SIXTHS, targetsOf } from './exampleAdjust.ts';

const CAR = carWith(SIXTHS);
const seatOf = (turns: PerCorner<number>): PerCorner<number> =>
  perCorner((corner) => (turns[corner] * 0.0015) / CAR.motionRatios[corner]);
/** Turns by which every seat is off at the start; whole sixths. */
const OFF: PerCorner<number> = { LF: 0, RF: -1, LR: 0, RR: 0.5 };
const unmeasured = (reading: AdjustReading): AdjustReading => ({
  ...reading,
  heights: [null, null, null, null],
});
const readAt = (turns: PerCorner<number>): AdjustReading => unmeasured(readingAt(seatOf(turns)));

const begun = (change: Partial<Adjustment> = {}): Adjustment => ({
  carId: CAR.id,
  targets: targetsOf({ heights: keptHeights(CAR, 3e-4) }),
  bars: 'off',
  friction: 0,
  start: readAt(OFF),
  prior: null,
  rounds: [],
  choice: 'heights kept',
  open: null,
  learnt: null,
  isOver: false,
  ...change,
});
const nowOf = (adjustment: Adjustment, car: Car = CAR): AdjustmentNow => {
  const now = adjustmentNow(car, adjustment);
  if (!now.ok) throw new Error(now.why);
  return now;
};
const choiceNow = (adjustment: Adjustment): Choice => {
  const { plan } = nowOf(adjustment);
  const choice = plan.ok ? choiceOf(plan, adjustment.choice) : plan;
  if (!choice.ok) throw new Error(choice.why);
  return choice;
};
const ONE_UP = { LF: 0, RF: 6, LR: 0, RR: 0 };

describe('a call under load, made as called', () => {
  const before = begun();
  const first = choiceNow(before);
  const called = withSteps(before, first.steps, nowOf(before).adjusters);
  const step = stepOf(called);
  if (step?.do !== 'turn') throw new Error('no call');
  const { call } = step;

  test('is the longest first, then settled and judged', () => {
    expect(called.open?.steps.map((each) => each.do)).toEqual(['turn', 'settle', 'judge']);
    expect(Math.abs(call.turns)).toBe(
      Math.max(...CORNERS.map((corner) => Math.abs(first.turns[corner]))),
    );
    const settling = withStepDone(called);
    expect(stepOf(settling)).toEqual({ do: 'settle' });
    const judging = withStepDone(settling, 'bounced');
    expect(stepOf(judging)).toEqual({ do: 'judge' });
    expect(judging.open?.settled).toBe('bounced');
    expect(withStepDone(judging)).toBe(judging);
  });

  const turned = { ...OFF, [call.corner]: OFF[call.corner] + call.turns };
  const after = withReading(CAR, called, readAt(turned));

  test('stands in the history with the loads before and after, and taught something', () => {
    expect(after.open).toBeNull();
    expect(after.rounds).toEqual([
      { calls: [call], before: before.start.loads.values, after: readAt(turned) },
    ]);
    expect(historyOf(after).readings.map(({ turns }) => turns)).toEqual([
      NONE,
      { ...NONE, [call.corner]: call.turns },
    ]);
    const index = CORNERS.indexOf(call.corner) * 9;
    expect(after.learnt?.covariance[index]).toBeLessThan(
      nowOf(before).response.covariance[index] as number,
    );
    expect(lastReading(after)).toEqual(readAt(turned));
  });

  test('“keep” stays as it was at the start: the next plan is what is left of the first', () => {
    expect(choiceNow(after).steps).toEqual({
      ...first.steps,
      [call.corner]: 0,
    });
    expect(nowOf(after).isRise).toEqual([true, true, true, true]);
  });

  test('is taken back by the opposite call', () => {
    const back = stepOf(withUndo(after, nowOf(after).adjusters));
    expect(back).toEqual({
      do: 'turn',
      call: { corner: call.corner, steps: -call.steps, turns: -call.turns },
    });
    expect(withUndo(before, nowOf(before).adjusters)).toBe(before);
  });

  test('is the same after it was kept and read', () => {
    for (const each of [before, called, after])
      expect(adjustmentSchema.parse(JSON.parse(JSON.stringify(each)))).toEqual(each);
  });
});

test('perches that are not turned under load are turned together, the car raised once', () => {
  const car = carWith({ ...SIXTHS, underLoad: false });
  const now = nowOf(begun(), car);
  const open = withSteps(begun(), { LF: -3, RF: 6, LR: 0, RR: 0 }, now.adjusters).open;
  expect(open?.steps.map((step) => step.do)).toEqual([
    'raise',
    'turn',
    'turn',
    'lower',
    'settle',
    'judge',
  ]);
  // The second call left: the first is made, so the car is lowered, settled and read.
  const second = withStepDone(withStepDone({ ...begun(), open }));
  expect(stepOf(second)).toMatchObject({ do: 'turn', call: { corner: 'LF', steps: -3 } });
  const left = withCallLeft(second);
  expect(stepOf(left)).toEqual({ do: 'lower' });
  expect(cornersCalled(left)).toEqual([{ corner: 'RF', steps: 6, turns: 1 }]);
  expect(withCallLeft({ ...begun(), open }).open).toBeNull();
});

test('a car of which nothing is known of its adjusters is refused in words', () => {
  expect(adjustmentNow(carWith(null), begun())).toMatchObject({ ok: false, code: 'no adjusters' });
  expect(adjustmentNow({ ...CAR, details: null }, begun())).toMatchObject({
    ok: false,
    code: 'no adjusters',
  });
  const none = begun({
    start: {
      ...readAt(OFF),
      loads: { ...readAt(OFF).loads, values: [0, 0, 0, 0] },
    },
  });
  expect(adjustmentNow(CAR, none)).toMatchObject({ ok: false, code: 'no reading' });
});

test('what was learnt is used again with the same data of the car, and not with others', () => {
  const now = nowOf(begun());
  const prior = { ...learntOf(now.response), logFactors: [0.1, 0, 0, 0, 0, 0, 0, 0] };
  expect(nowOf(begun({ prior })).prior.logFactors).toEqual(prior.logFactors);
  const other = carWith({ ...SIXTHS, pitches: [0.002] });
  expect(nowOf(begun({ prior }), other).prior.logFactors).toEqual(new Array(8).fill(0));
});

test('a ride height names the corner that was turned instead of the one that was called', () => {
  const measured = (turns: PerCorner<number>) => readingAt(seatOf(turns));
  const start = begun({ start: measured(NONE) });
  const { adjusters } = nowOf(start);
  const madeAt = (corner: Corner): Adjustment =>
    withReading(CAR, withSteps(start, ONE_UP, adjusters), measured({ ...NONE, [corner]: 1 }));
  const toldOf = (adjustment: Adjustment) => cornerTold(adjustment, nowOf(adjustment));
  expect(toldOf(start)).toBeNull();
  expect(toldOf(madeAt('RF'))?.told.chances?.RF).toBeGreaterThan(0.9);
  // RF up and LR up load the pads alike within 2 %, RF +0.77 and −0.24 mm at the right front.
  expect(toldOf(madeAt('LR'))?.told.chances?.LR).toBeGreaterThan(0.9);
});

describe('the band between two directions', () => {
  // At the same turns the loads rest this far apart along the warp, newton at the left front.
  const BAND = 60;
  const n = [1, -1, -CAR.trackFront / CAR.trackRear, CAR.trackFront / CAR.trackRear];
  const shifted = (reading: AdjustReading, warp: number): AdjustReading => {
    const [lf, rf, lr, rr] = reading.loads.values;
    const [a = 0, b = 0, c = 0, d = 0] = n;
    return {
      ...reading,
      settled: 'as it came',
      loads: {
        ...reading.loads,
        values: [lf + a * warp, rf + b * warp, lr + c * warp, rr + d * warp],
      },
    };
  };
  const started = begun({ start: { ...readAt(NONE), settled: 'bounced' }, friction: 40 });
  const { adjusters } = nowOf(started);
  /** RF up a turn, and down again: up raises the right front, so the warp at the left front falls. */
  const up = withReading(
    CAR,
    withSteps(started, ONE_UP, adjusters),
    shifted(readAt({ ...NONE, RF: 1 }), -BAND / 2),
  );
  const down = withReading(
    CAR,
    withSteps(up, { ...ONE_UP, RF: -6 }, adjusters),
    shifted(readAt(NONE), BAND / 2),
  );

  test('is found from an up and a down, and says where the car rests', () => {
    const found = restBand(down, nowOf(down));
    expect(found?.corner).toBe('RF');
    const { band, middle } = found?.band ?? {};
    // Above zero: the loads run ahead of where the car would rest.
    expect(Math.abs((band?.value ?? 0) - BAND)).toBeLessThan(3 * (band?.u ?? 0));
    expect(band?.u).toBeLessThan(1);
    expect(middle?.u).toBeLessThan(1);
  });

  test('is told in cross weight: so much warp moves so much of it', () => {
    const found = restBand(down, nowOf(down));
    const cross = ({ loads: { values } }: AdjustReading): number =>
      (values[1] + values[2]) / values.reduce((sum, load) => sum + load, 0);
    const by = cross(readAt(NONE)) - cross(shifted(readAt(NONE), 10));
    expect((found?.crossPerWarp ?? 0) * 10).toBeCloseTo(by, 9);
  });

  test('friction as it came asks for a settle where the tolerance is narrow, not where it is wide', () => {
    const asItCame = begun({ start: { ...readAt(NONE), settled: 'as it came' }, friction: 40 });
    expect(restBand(asItCame, nowOf(asItCame))?.needsSettle).toBe(true);
    const wide = {
      ...asItCame,
      targets: { ...asItCame.targets, cross: { target: 0.5, tolerance: 0.05 } },
    };
    expect(restBand(wide, nowOf(wide))?.needsSettle).toBe(false);
  });
});
