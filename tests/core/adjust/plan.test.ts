import { lusolve } from 'mathjs';
import { describe, expect, test } from 'vitest';
import { keptHeights, type Targets } from '../../../core/adjust/targets.ts';
import { cornersTurned, plan, type Choice, type Plan } from '../../../core/adjust/plan.ts';
import { statics } from '../../../core/adjust/statics.ts';
import type { AdjustReading } from '../../../core/adjust/reading.ts';
import type { Adjusters } from '../../../core/adjust/adjuster.ts';
import { CORNERS, inOrder, perCorner, type PerCorner } from '../../../core/corners.ts';
import { STANDARD_GRAVITY } from '../../../core/units.ts';
import {
  FLAT_CAR,
  FRICTION,
  HEIGHT,
  NONE,
  readingAt,
  responseOf,
  sixths,
  standingCar,
  targetsOf,
} from './exampleAdjust.ts';

const planned = (
  reading: AdjustReading,
  targets: Targets,
  adjusters: Adjusters = sixths(),
): Plan => {
  const made = plan({ reading, targets, adjusters, response: responseOf(), friction: FRICTION });
  if (!made.ok) throw new Error(made.why);
  return made;
};
const sure = (choice: Plan['heightsKept']): Choice => {
  if (!choice.ok) throw new Error(choice.why);
  return choice;
};
const levelCross = ((): number => {
  const [lf, rf, lr, rr] = readingAt(NONE).loads.values;
  return (rf + lr) / (lf + rf + lr + rr);
})();
const seatsOf = (turns: PerCorner<number>): PerCorner<number> =>
  perCorner((corner) => (turns[corner] * 1.5e-3) / FLAT_CAR.motionRatios[corner]);

describe('a car whose seats are off by known whole steps', () => {
  const off = { LF: 0.5, RF: -1, LR: 4 / 3, RR: -1 / 6 };
  const reading = readingAt(seatsOf(off));
  const found = planned(reading, targetsOf({ cross: { target: levelCross, tolerance: 1e-3 } }));

  test('is brought back by the opposite turns, with nothing left', () => {
    const choice = sure(found.heightsKept);
    expect(choice.turns).toEqual({ LF: -0.5, RF: 1, LR: -4 / 3, RR: 1 / 6 });
    inOrder(choice.exactTurns).forEach((turns, i) =>
      expect(turns).toBeCloseTo(-(inOrder(off)[i] as number), 9),
    );
    expect(choice.distance).toBeLessThan(1e-9);
    expect(choice).toMatchObject({ short: null, proved: true });
    expect(found.beyond).toEqual([]);
  });

  test('and what is predicted is what the statics gives, with honest uncertainty', () => {
    const choice = sure(found.heightsKept);
    const level = statics(standingCar(), { seats: NONE, pads: NONE, bars: 'off' });
    for (const corner of CORNERS) {
      expect(choice.predicted.loads[corner].value).toBeCloseTo(level.loads[corner], 6);
      // A response known to 23 % and turns of up to a full millimetre: tens of newtons.
      expect(choice.predicted.loads[corner].u).toBeGreaterThan(5);
    }
    choice.predicted.heights.forEach((height) => expect(height?.value).toBeCloseTo(HEIGHT, 9));
    expect(choice.predicted.balance.crossShare.value).toBeCloseTo(levelCross, 9);
    expect(choice.predicted.balance.total.value).toBeCloseTo(1305, 6);
    expect(choice.predicted.balance.total.u).toBeLessThan(0.1);
  });

  test('the exact solution is that of a general-purpose solver on four equations', () => {
    // Cross weight and three heights: the fourth follows on a rigid chassis.
    const effects = CORNERS.map((corner) => {
      const { loads, rise } = statics(standingCar(), {
        seats: { ...NONE, [corner]: 1.5e-3 / FLAT_CAR.motionRatios[corner] },
        pads: NONE,
        bars: 'off',
      });
      const cross = (loads.RF + loads.LR) / (1305 * STANDARD_GRAVITY) - levelCross;
      return [cross, rise.LF, rise.RF, rise.LR];
    });
    const now = reading.heights.map((height) => (height?.value ?? 0) - HEIGHT);
    const [lf, rf, lr, rr] = reading.loads.values;
    const away = [levelCross - (rf + lr) / (lf + rf + lr + rr), ...now.slice(0, 3).map((h) => -h)];
    const matrix = [0, 1, 2, 3].map((row) => effects.map((column) => column[row] as number));
    const solved: unknown = lusolve(matrix, away);
    if (!Array.isArray(solved)) throw new TypeError('the solver did not answer an array');
    solved.forEach((row: unknown, i) =>
      expect(Number(Array.isArray(row) ? row[0] : row)).toBeCloseTo(
        inOrder(sure(found.heightsKept).exactTurns)[i] as number,
        7,
      ),
    );
  });
});

describe('the choices side by side', () => {
  // Right front alone is low: one corner does it.
  const one = planned(
    readingAt(seatsOf({ ...NONE, RF: -1 })),
    targetsOf({ cross: { target: levelCross, tolerance: 1e-3 } }),
  );
  test('fewest corners finds the one that was off', () => {
    expect(cornersTurned(sure(one.fewestCorners))).toEqual(['RF']);
    expect(sure(one.fewestCorners).steps.RF).toBe(6);
  });
  test('one corner alone brings the weight right and tells what it does to the heights', () => {
    const skew = planned(
      readingAt(seatsOf({ LF: 0.5, RF: -0.5, LR: -0.5, RR: 0.5 })),
      targetsOf({ cross: { target: levelCross, tolerance: 1e-3 } }),
    );
    const choice = sure(skew.oneCorner);
    expect(cornersTurned(choice)).toHaveLength(1);
    const cross = choice.left.find(({ kind }) => kind === 'cross');
    expect(Math.abs(cross?.off ?? 1)).toBeLessThan(1e-3);
    expect(choice.short).not.toBeNull();
    expect(choice.distance).toBeGreaterThan(1);
    expect(cornersTurned(sure(skew.fewestCorners)).length).toBeGreaterThan(1);
  });
  test('nothing is turned where everything is within tolerance', () => {
    const good = planned(
      readingAt(seatsOf({ ...NONE, RF: 0.05 })),
      targetsOf({ cross: { target: levelCross, tolerance: 3e-3 } }),
    );
    expect(sure(good.fewestCorners).steps).toEqual(NONE);
  });
  test('no fewer corners bring everything within tolerance: every subset tried by brute force', () => {
    const reading = readingAt(seatsOf({ LF: 0.4, RF: -0.7, LR: 0.3, RR: 0.2 }));
    const targets = targetsOf({ cross: { target: levelCross, tolerance: 2e-3 } });
    const found = planned(reading, targets);
    const fewest = sure(found.fewestCorners);
    const response = responseOf();
    const least = { count: Infinity, squares: Infinity };
    const range = Array.from({ length: 13 }, (_, i) => i - 6);
    const unit = CORNERS.map((corner) => {
      const { loads, rise } = statics(response.standing, {
        seats: { ...NONE, [corner]: 0.25e-3 / FLAT_CAR.motionRatios[corner] },
        pads: NONE,
        bars: 'off',
      });
      return [(loads.RF + loads.LR) / (1305 * STANDARD_GRAVITY) - levelCross, ...inOrder(rise)];
    });
    const [lf, rf, lr, rr] = reading.loads.values;
    const start = [
      (rf + lr) / (lf + rf + lr + rr) - levelCross,
      ...reading.heights.map((height) => (height?.value ?? 0) - HEIGHT),
    ];
    const tolerance = [2e-3, 3e-4, 3e-4, 3e-4, 3e-4];
    for (const a of range)
      for (const b of range)
        for (const c of range)
          for (const d of range) {
            const steps = [a, b, c, d];
            const left = start.map(
              (value, row) =>
                (value + steps.reduce((sum, s, i) => sum + s * (unit[i]?.[row] as number), 0)) /
                (tolerance[row] as number),
            );
            if (left.some((value) => Math.abs(value) > 1)) continue;
            const count = steps.filter((step) => step !== 0).length;
            const squares = left.reduce((sum, value) => sum + value ** 2, 0);
            if (count < least.count || (count === least.count && squares < least.squares))
              Object.assign(least, { count, squares });
          }
    expect(cornersTurned(fewest)).toHaveLength(least.count);
    const squares = fewest.left.reduce((sum, { off, tolerance: t }) => sum + (off / t) ** 2, 0);
    expect(squares).toBeCloseTo(least.squares, 6);
  });
});

describe('what keeps a choice short', () => {
  const reading = readingAt(seatsOf({ ...NONE, RF: -0.75 }));
  const targets = targetsOf({ cross: { target: levelCross, tolerance: 1e-4 } });
  const short = (adjusters: Adjusters, wanted = targets) =>
    sure(planned(reading, wanted, adjusters).heightsKept).short;

  test('steps that are too coarse', () => {
    const whole = perCorner((corner) => {
      const adjuster = sixths()[corner];
      return adjuster && { ...adjuster, stepsPerTurn: 1 };
    });
    expect(short(whole)).toBe('steps');
    expect(planned(reading, targets, whole).fewestCorners).toMatchObject({
      ok: false,
      code: 'out of reach',
    });
    const quarters = perCorner((corner) => {
      const adjuster = sixths()[corner];
      return adjuster && { ...adjuster, stepsPerTurn: 4 };
    });
    expect(short(quarters)).toBeNull();
  });
  test('an adjuster that ends before', () => {
    const adjusters = perCorner((corner) => {
      const adjuster = sixths()[corner];
      return adjuster && { ...adjuster, stepsPerTurn: 4, room: { up: 2, down: 9 } };
    });
    expect(short(adjusters)).toBe('room');
  });
  test('one corner alone, where the whole body stands too low', () => {
    const low = planned(
      readingAt(seatsOf({ LF: -1, RF: -1, LR: -1, RR: -1 })),
      targetsOf({ cross: { target: levelCross, tolerance: 1e-3 } }),
    );
    expect(sure(low.oneCorner).short).toBe('alone');
    expect(sure(low.heightsKept).short).toBeNull();
  });
  test('heights that no rigid car can have', () => {
    const bent = targetsOf({
      cross: { target: levelCross, tolerance: 1e-3 },
      heights: targets.heights.map((goal, i) =>
        i === 0 ? { ...goal, target: HEIGHT + 4e-3 } : goal,
      ),
    });
    expect(short(sixths(), bent)).toBe('physics');
  });
});

describe('what turns cannot change is said with what can', () => {
  test('total, front and left share, by moments about the axles', () => {
    const found = planned(
      readingAt(NONE),
      targetsOf({
        cross: { target: levelCross, tolerance: 1e-3 },
        total: { target: 1310, tolerance: 1 },
        frontShare: { target: 0.48, tolerance: 1e-3 },
        leftShare: { target: 0.5, tolerance: 1e-3 },
      }),
    );
    const [total, front, left] = found.beyond;
    expect(total).toMatchObject({ kind: 'total', moment: null });
    expect(total?.mass).toBeCloseTo(5, 9);
    // 0.5 % of 1305 kg moved over the wheelbase of 2.7 m.
    expect(front?.kind).toBe('front share');
    expect(front?.moment).toBeCloseTo(0.005 * 1305 * 2.7, 6);
    // Centre of gravity from 6 mm left to the middle.
    expect(left?.kind).toBe('left share');
    // Tracks that differ by 2 % make the share a slightly skewed measure of it.
    expect(left?.moment).toBeCloseTo(-0.006 * 1305, 1);
  });
  test('four corner weights that the car cannot have', () => {
    const weights = readingAt(NONE).loads.values.map((load) => load / STANDARD_GRAVITY);
    const goals = perCorner((corner, i) => ({
      target: (weights[i] as number) + (corner === 'LF' || corner === 'RF' ? 6 : -6),
      tolerance: 1,
    }));
    const found = planned(readingAt(NONE), targetsOf({ cross: null, cornerWeights: goals }));
    expect(found.beyond.map(({ kind }) => kind)).toEqual(['front share']);
    expect(sure(found.heightsKept).short).toBe('physics');
  });
  test('but corner weights along the warp are reached', () => {
    const off = readingAt(seatsOf({ ...NONE, LR: -1 }));
    const goals = perCorner((_, i) => ({
      target: (readingAt(NONE).loads.values[i] as number) / STANDARD_GRAVITY,
      tolerance: 0.5,
    }));
    const found = planned(off, targetsOf({ cross: null, cornerWeights: goals }));
    expect(found.beyond).toEqual([]);
    expect(sure(found.fewestCorners).steps).toEqual({ ...NONE, LR: 6 });
  });
});

describe('heights that were not measured', () => {
  const blind: AdjustReading = {
    ...readingAt(seatsOf({ LF: 0.5, RF: -0.5, LR: -0.5, RR: 0.5 })),
    heights: [null, null, null, null],
  };
  test('are kept, and told as changes alone', () => {
    const targets = targetsOf({
      cross: { target: levelCross, tolerance: 1e-3 },
      heights: keptHeights(FLAT_CAR, 3e-4),
    });
    const choice = sure(planned(blind, targets).heightsKept);
    expect(choice.predicted.heights).toEqual([null, null, null, null]);
    choice.predicted.rises.forEach(({ value }) => expect(Math.abs(value)).toBeLessThan(3e-4));
    expect(choice.short).toBeNull();
  });
  test('cannot be brought to a target', () => {
    const found = plan({
      reading: blind,
      targets: targetsOf(),
      adjusters: sixths(),
      response: responseOf(),
      friction: FRICTION,
    });
    expect(found).toMatchObject({ ok: false, code: 'no height' });
  });
});

describe('refusals', () => {
  const refusal = (change: Partial<Targets>, reading = readingAt(NONE)) =>
    plan({
      reading,
      targets: targetsOf(change),
      adjusters: sixths(),
      response: responseOf(),
      friction: FRICTION,
    });
  test.each<[string, Partial<Targets>]>([
    ['no target', { cross: null }],
    ['no target', { heights: [] }],
    ['no target', { cross: { target: 0.5, tolerance: 0 } }],
    ['not physical', { cross: { target: 1.2, tolerance: 0.01 } }],
    [
      'not physical',
      { cornerWeights: { LF: { target: -5, tolerance: 1 }, RF: null, LR: null, RR: null } },
    ],
  ])('%s', (code, change) => {
    expect(refusal(change)).toMatchObject({ ok: false, code });
  });
  test('a wheel that hangs free is no reading', () => {
    const reading = readingAt(NONE);
    const values = [0, ...reading.loads.values.slice(1)] as unknown as typeof reading.loads.values;
    expect(refusal({}, { ...reading, loads: { ...reading.loads, values } })).toMatchObject({
      code: 'no reading',
    });
  });
  test('a target at which a wheel would lift', () => {
    const found = refusal({
      cross: { target: 0.99, tolerance: 1e-3 },
      heights: keptHeights(FLAT_CAR, 1),
    });
    if (!found.ok) throw new Error(found.why);
    expect(found.heightsKept).toMatchObject({ ok: false, code: 'not physical' });
  });
  test('an adjuster that the response does not know', () => {
    const found = plan({
      reading: readingAt(NONE),
      targets: targetsOf(),
      adjusters: sixths(),
      response: responseOf(FLAT_CAR, { ...sixths(), LF: null }),
      friction: FRICTION,
    });
    expect(found).toMatchObject({ ok: false, code: 'no response' });
  });
});

test('a corner without an adjuster is left out', () => {
  const found = planned(
    readingAt(seatsOf({ ...NONE, RF: -1 })),
    targetsOf({ cross: { target: levelCross, tolerance: 1e-3 } }),
    { ...sixths(), RF: null },
  );
  expect(sure(found.heightsKept).steps.RF).toBe(0);
});
