import { expect, test } from 'vitest';
import { studentT } from '../../../core/signal/studentT.ts';

/** Two-sided quantiles as in JCGM 100:2008 table G.2, to four decimals (computed with a statistics library). */
const TABLE: readonly (readonly [number, number, number])[] = [
  [1, 12.7062, 63.6567],
  [2, 4.3027, 9.9248],
  [3, 3.1824, 5.8409],
  [4, 2.7764, 4.6041],
  [5, 2.5706, 4.0321],
  [6, 2.4469, 3.7074],
  [8, 2.306, 3.3554],
  [10, 2.2281, 3.1693],
  [11, 2.201, 3.1058],
  [15, 2.1314, 2.9467],
  [20, 2.086, 2.8453],
  [30, 2.0423, 2.75],
  [60, 2.0003, 2.6603],
  [120, 1.9799, 2.6174],
  [Infinity, 1.96, 2.5758],
];

test.each(TABLE)('%d degrees of freedom', (dof, at95, at99) => {
  expect(studentT(0.05, dof)).toBeCloseTo(at95, 3);
  expect(studentT(0.01, dof)).toBeCloseTo(at99, 3);
});

test('spot values of JCGM 100 table G.2 at other levels', () => {
  // Quoted by a metrology program's tests of its t table.
  expect(studentT(1 - 0.6827, 1)).toBeCloseTo(1.84, 2);
  expect(studentT(0.1, 20)).toBeCloseTo(1.72, 2);
  expect(studentT(0.0027, 5)).toBeCloseTo(5.51, 2);
  expect(studentT(0.0027, 2)).toBeCloseTo(19.21, 2);
  expect(studentT(0.0455, 10)).toBeCloseTo(2.284, 3);
});

test('part degrees of freedom count as the whole ones below, and nonsense is refused', () => {
  expect(studentT(0.05, 4.9)).toBe(studentT(0.05, 4));
  expect(() => studentT(0.05, 0.5)).toThrow(RangeError);
  expect(() => studentT(0, 4)).toThrow(RangeError);
  expect(() => studentT(0.05, NaN)).toThrow(RangeError);
});
