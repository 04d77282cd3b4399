import { expect, test } from 'vitest';
import { createLateness } from '../../renderer/guest/lateness.ts';

/** The phone's clock reads 7000 s when the bench's reads 0. */
const APART = 7000;

test('the quickest journey counts as none; what is held back is late by what it was held', () => {
  const late = createLateness();
  expect(late(APART + 0.02, 0)).toBe(0);
  expect(late(APART + 0.06, 0.05)).toBe(0);
  expect(late(APART + 0.11 + 2, 0.1)).toBeCloseTo(2, 3);
  expect(late(APART + 2.16, 2.15)).toBeCloseTo(0, 3);
});

test('a clock that drifts makes nothing late', () => {
  const late = createLateness();
  let worst = 0;
  // An hour, the phone fast by 100 ppm: 0.36 s in all.
  for (let t = 0; t < 3600; t += 0.5) worst = Math.max(worst, late(APART + t * 1.0001 + 0.02, t));
  expect(worst).toBeLessThan(1e-6);
});
