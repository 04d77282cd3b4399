import { describe, expect, test } from 'vitest';
import { barCheck } from '../../../core/adjust/barCheck.ts';
import { firstTargets } from '../../../core/adjust/firstTargets.ts';
import { massPlaces } from '../../../core/adjust/massPlaces.ts';
import type { AdjustReading } from '../../../core/adjust/reading.ts';
import { measured } from '../../../core/measured.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import { EXAMPLE_SHEET } from '../../../core/sheet/exampleSheet.ts';
import { FLAT_CAR, NONE, readingAt } from './exampleAdjust.ts';

describe('targets to begin with', () => {
  test('are the sheet’s, and a height without a reading is kept', () => {
    const lf = measured(0.0641, 1e-4, 20);
    const { targets, heights } = firstTargets({
      car: EXAMPLE_CAR,
      sheet: EXAMPLE_SHEET,
      diagonal: 'LF+RR',
      heights: (id) => (id === 'LF' ? lf : null),
    });
    expect(targets).toMatchObject({
      diagonal: 'RF+LR',
      cross: { target: 0.5, tolerance: 0.002 },
      total: { target: 1305, tolerance: 1 },
      frontShare: { target: 0.475, tolerance: 0.002 },
      leftShare: null,
    });
    expect(targets.heights.map(({ target }) => target)).toEqual([0.065, 'keep', 'keep', 'keep']);
    expect(heights).toEqual([lf, null, null, null]);
  });

  test('without sheet and reference points all is kept, over the wheels', () => {
    const { targets, heights } = firstTargets({
      car: { ...EXAMPLE_CAR, details: null },
      sheet: null,
      diagonal: 'LF+RR',
      heights: () => null,
    });
    expect(targets.diagonal).toBe('LF+RR');
    expect(targets.cross?.target).toBe('keep');
    expect(targets.heights.map(({ point }) => [point.x, point.y])).toEqual([
      [0, 0.84],
      [0, -0.84],
      [-2.7, 0.825],
      [-2.7, -0.825],
    ]);
    expect(heights).toEqual([null, null, null, null]);
  });
});

test('mass can be asked about at the ballast places, the tank and the seat', () => {
  expect(massPlaces(EXAMPLE_CAR).map(({ name, z }) => [name, z])).toEqual([
    ['Ballast, nose box', 0.2],
    ['Ballast, right of the seat', 0.12],
    ['Fuel', 0.43],
    ['Driver', 0.43],
  ]);
  expect(massPlaces({ ...EXAMPLE_CAR, details: null })).toEqual([]);
});

describe('a bar weighed off and on', () => {
  const check = (on: AdjustReading, friction: number) =>
    barCheck({
      car: FLAT_CAR,
      off: readingAt(NONE, { loadU: 0.05 }),
      on,
      axle: 'front',
      barEnd: 'above',
      otherBar: 'off',
      friction,
    });
  const off = readingAt(NONE, { loadU: 0.05 });
  const shifted = (by: readonly number[]): AdjustReading => {
    const [lf, rf, lr, rr] = off.loads.values;
    const [a = 0, b = 0, c = 0, d = 0] = by;
    return { ...off, loads: { ...off.loads, values: [lf + a, rf + b, lr + c, rr + d] } };
  };

  test('along its own pattern its preload is told, with the link that takes it out', () => {
    const r = FLAT_CAR.trackFront / FLAT_CAR.trackRear;
    const found = check(shifted([30, -30, -30 * r, 30 * r]), 0);
    expect(found.ok && found.shift.value).toBeCloseTo(30, 6);
    expect(found).toMatchObject({ ok: true, seen: true });
    // More load at the left, the arm above: the link pushes down, so it is to be shorter.
    expect(found.ok && found.leftLink.value).toBeLessThan(0);
  });

  test('what friction may hold is no preload', () => {
    const r = FLAT_CAR.trackFront / FLAT_CAR.trackRear;
    const small = shifted([1, -1, -r, r]);
    expect(check(small, 0)).toMatchObject({ ok: true, seen: true });
    expect(check(small, 20)).toMatchObject({ ok: true, seen: false });
  });

  test('a change that no bar can make is refused', () => {
    expect(check(shifted([50, 50, 0, 0]), 20)).toMatchObject({
      ok: false,
      code: 'something else changed',
    });
  });

  test('a bar without a drop-link ratio is refused', () => {
    expect(
      barCheck({
        car: { ...FLAT_CAR, details: null },
        off,
        on: off,
        axle: 'front',
        barEnd: 'above',
        otherBar: 'off',
        friction: 20,
      }),
    ).toMatchObject({ ok: false, code: 'no motion ratio' });
  });
});
