import { describe, expect, test } from 'vitest';
import { boundTime } from '../../../studies/boundTime.ts';
import { coverage } from '../../../studies/coverage.ts';
import { fallInto, TRAPS } from '../../../studies/falseSettled.ts';
import { droppedCar } from '../../../studies/modalCar.ts';
import { dropOnce, RATE } from '../../../studies/timeToSettled.ts';

/** The reduced twin of tests/studies/settling.ts and tests/bench/settle.ts, seeds fixed. */

test('intervals of thirty lowerings of the practice rig', () => {
  const found = [0.049, 0.49, 2.94].map((noise, turn) =>
    coverage(
      Array.from({ length: 10 }, (_, index) => 3001 + 3 * index + turn),
      { noise, friction: 20, every: 0.2 },
    ),
  );
  const share = (what: 'waiting' | 'early' | 'everyLook' | 'earlyOff' | 'waitingOff'): number =>
    found.reduce((sum, one) => sum + one[what].held, 0) /
    found.reduce((sum, one) => sum + one[what].of, 0);
  // 120 corners, the four of a lowering nearly of one mind for early: two standard errors are 0.08.
  expect(share('early')).toBeGreaterThan(0.86);
  expect(share('everyLook')).toBeGreaterThan(0.9);
  expect(share('waiting')).toBeGreaterThan(0.91);
  expect(share('waiting')).toBeLessThan(0.99);
  expect(share('earlyOff')).toBeLessThan(0.1);
  expect(share('waitingOff')).toBe(0);
  for (const { times } of found)
    for (const { early, waiting } of times) {
      expect(early).not.toBeNull();
      if (waiting !== null) expect(early).toBeLessThanOrEqual(waiting);
    }
}, 60_000);

test.each(TRAPS.map((trap, index) => ({ trap, index })))(
  'false settled: $trap.name',
  ({ trap, index }) => {
    const { looks, waiting, early } = fallInto(trap, 4, 8000 + index);
    expect(waiting / looks).toBeLessThan(0.01);
    // Four runs of one trap hold each other's looks together: the study's limit is 1 % of a hundred.
    expect(early / looks).toBeLessThan(0.02);
  },
  60_000,
);

describe('time to a settled reading', () => {
  test.each([
    { hertz: 2, damping: 0.3, noise: 0.049 },
    { hertz: 5, damping: 0.3, noise: 0.049 },
    { hertz: 2.7, damping: 0.5, noise: 0.49 },
    { hertz: 2, damping: 0.9, noise: 0.49 },
  ])('$hertz Hz, damping $damping, $noise N: early within 1.5 of the bound', (cell) => {
    const car = droppedCar(cell.hertz, cell.damping);
    const bound = boundTime(car, { rate: RATE, noise: cell.noise });
    const drops = Array.from({ length: 5 }, (_, seed) =>
      dropOnce(car, { noise: cell.noise, seed: 40 + seed }),
    );
    const early = drops.map((drop) => drop.early ?? Infinity).toSorted((a, b) => a - b);
    expect((early[2] as number) / bound).toBeLessThanOrEqual(1.5);
    for (const drop of drops) {
      expect(drop.early ?? Infinity).toBeLessThan(drop.waiting ?? Infinity);
      if (cell.damping === 0.3 && cell.noise < 0.1)
        expect((drop.waiting as number) / (drop.early as number)).toBeGreaterThan(2);
    }
  });
});
