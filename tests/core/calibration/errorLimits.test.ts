import { expect, test } from 'vitest';
import { errorLimit, judgePoints, type ErrorClass } from '../../../core/calibration/errorLimits.ts';

const CLASS_III: ErrorClass = { accuracy: 'III', interval: 0.1, when: 'first verification' };

test('class III, e = 0.1 kg: the steps of OIML R 76-1:2006, table 6', () => {
  const limits = [0, 50, 50.1, 200, 200.1, 500, 1000].map((load) => errorLimit(load, CLASS_III));
  for (const [index, limit] of [0.05, 0.05, 0.1, 0.1, 0.15, 0.15, 0.15].entries())
    expect(limits[index]).toBeCloseTo(limit, 12);
  // 10 000 e is the most that table 3 allows.
  expect(errorLimit(1000.1, CLASS_III)).toBeNull();
});

test('in service twice as much (3.5.2); the other classes by their own steps', () => {
  expect(errorLimit(120, { ...CLASS_III, when: 'in service' })).toBeCloseTo(0.2, 12);
  const at = (accuracy: ErrorClass['accuracy'], load: number): number | null =>
    errorLimit(load, { accuracy, interval: 1, when: 'first verification' });
  expect([at('I', 50_000), at('I', 50_001), at('I', 200_001)]).toEqual([0.5, 1, 1.5]);
  expect([at('II', 5_000), at('II', 20_000), at('II', 100_000), at('II', 100_001)]).toEqual([
    0.5,
    1,
    1.5,
    null,
  ]);
  expect([at('IIII', 50), at('IIII', 200), at('IIII', 1_000), at('IIII', 1_001)]).toEqual([
    0.5,
    1,
    1.5,
    null,
  ]);
});

test('points are judged either way, and one beyond the class is not within it', () => {
  const judged = judgePoints(
    [
      { load: 100, error: -0.1 },
      { load: 100, error: 0.11 },
      { load: 2000, error: 0 },
    ],
    CLASS_III,
  );
  expect(judged.map(({ within }) => within)).toEqual([true, false, false]);
});

test('what is no load or interval is refused', () => {
  expect(() => errorLimit(-1, CLASS_III)).toThrow(RangeError);
  expect(() => errorLimit(1, { ...CLASS_III, interval: 0 })).toThrow(RangeError);
});
