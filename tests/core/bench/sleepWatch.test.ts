import { expect, test } from 'vitest';
import { createSleepWatch } from '../../../core/bench/sleepWatch.ts';

test('a computer that slept is noticed once, by the wall clock that went on', () => {
  let mono = 100;
  let wall = 1_700_000_000_000;
  const watch = createSleepWatch({ now: () => mono, wallClock: () => wall });
  const pass = (seconds: number, wallSeconds = seconds): number => {
    mono += seconds;
    wall += Math.round(1000 * wallSeconds);
    return watch();
  };
  expect(pass(0.02)).toBe(0);
  expect(pass(0.02, 3600.02)).toBeCloseTo(3600, 3);
  expect(pass(0.02)).toBe(0);
  // A clock that counts the sleep needs no watch; a wall clock set back is no sleep, nor its return
  // by less than a reading stays live.
  expect(pass(3600)).toBe(0);
  expect(pass(0.02, -3600)).toBe(0);
  expect(pass(0.02, 0.4)).toBe(0);
  expect(pass(0.02, 0.6)).toBeGreaterThan(0.5);
});
