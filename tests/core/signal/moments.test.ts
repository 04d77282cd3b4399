import { describe, expect, test } from 'vitest';
import { moments } from '../../../core/signal/moments.ts';

/** NIST Statistical Reference Datasets, univariate summary statistics: certified values of the files. */
const alternating = (first: number, low: number, high: number): number[] => [
  first,
  ...Array.from({ length: 1000 }, (_, index) => (index % 2 === 0 ? low : high)),
];

const MAVRO = [
  180, 170, 180, 190, 180, 170, 150, 140, 150, 150, 170, 180, 180, 190, 190, 210, 200, 160, 140,
  130, 130, 150, 150, 160, 150, 140, 130, 140, 150, 140, 150, 160, 150, 160, 190, 200, 200, 210,
  220, 230, 240, 250, 270, 260, 260, 260, 270, 260, 250, 240,
].map((digits) => Number(`2.00${digits}`));

const MICHELSO = [
  299.85, 299.74, 299.9, 300.07, 299.93, 299.85, 299.95, 299.98, 299.98, 299.88, 300, 299.98,
  299.93, 299.65, 299.76, 299.81, 300, 300, 299.96, 299.96, 299.96, 299.94, 299.96, 299.94, 299.88,
  299.8, 299.85, 299.88, 299.9, 299.84, 299.83, 299.79, 299.81, 299.88, 299.88, 299.83, 299.8,
  299.79, 299.76, 299.8, 299.88, 299.88, 299.88, 299.86, 299.72, 299.72, 299.62, 299.86, 299.97,
  299.95, 299.88, 299.91, 299.85, 299.87, 299.84, 299.84, 299.85, 299.84, 299.84, 299.84, 299.89,
  299.81, 299.81, 299.82, 299.8, 299.77, 299.76, 299.74, 299.75, 299.76, 299.91, 299.92, 299.89,
  299.86, 299.88, 299.72, 299.84, 299.85, 299.85, 299.78, 299.89, 299.84, 299.78, 299.81, 299.76,
  299.81, 299.79, 299.81, 299.82, 299.85, 299.87, 299.87, 299.81, 299.74, 299.81, 299.94, 299.95,
  299.8, 299.81, 299.87,
];

/** Correct significant digits: −log₁₀ of the relative error, at most 15. */
const digits = (value: number, certified: number): number =>
  value === certified ? 15 : Math.min(15, -Math.log10(Math.abs((value - certified) / certified)));

describe('NIST StRD univariate sets', () => {
  // Last column: the digits of SD and r(1) that doubles can hold; NumAcc3 and 4 cannot even write
  // their data down to more (0.1 on 10⁷ has an error of 10⁻⁹).
  const sets: readonly (readonly [string, number[], number, number, number, number, number])[] = [
    ['NumAcc1', [10000001, 10000003, 10000002], 3, 10000002, 1, -0.5, 15],
    ['NumAcc2', alternating(1.2, 1.1, 1.3), 1001, 1.2, 0.1, -0.999, 13],
    ['NumAcc3', alternating(1000000.2, 1000000.1, 1000000.3), 1001, 1000000.2, 0.1, -0.999, 9],
    ['NumAcc4', alternating(10000000.2, 10000000.1, 10000000.3), 1001, 10000000.2, 0.1, -0.999, 8],
    ['Mavro', MAVRO, 50, 2.001856, 0.000429123454003053, 0.937989183438248, 11],
    ['Michelso', MICHELSO, 100, 299.8524, 0.0790105478190518, 0.535199668621283, 12],
  ];

  test.each(sets)('%s', (_name, data, count, mean, sd, lag1, least) => {
    const found = moments(data);
    expect(found.count).toBe(count);
    expect(digits(found.mean, mean)).toBeGreaterThanOrEqual(14.5);
    expect(digits(found.sd, sd)).toBeGreaterThanOrEqual(least);
    expect(digits(found.lag1, lag1)).toBeGreaterThanOrEqual(least);
  });
});

test('a lost value is not covered up, and nothing has no mean', () => {
  expect(moments([1, NaN, 3]).mean).toBeNaN();
  expect(moments([7]).sd).toBeNaN();
  expect(moments([4, 4, 4])).toEqual({ count: 3, mean: 4, sd: 0, lag1: NaN });
  expect(() => moments([])).toThrow(RangeError);
});
