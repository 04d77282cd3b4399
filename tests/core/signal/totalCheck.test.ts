import { describe, expect, test } from 'vitest';
import { CORNERS, perCorner, type PerCorner } from '../../../core/corners.ts';
import { measured, type Measured } from '../../../core/measured.ts';
import { averageFour } from '../../../core/signal/averageFour.ts';
import { createEarly } from '../../../core/signal/early/early.ts';
import { createSettle } from '../../../core/signal/settle.ts';
import { checkTotal } from '../../../core/signal/totalCheck.ts';
import { newton, type Newton } from '../../../core/units.ts';
import { createNoise, type Noise } from './noise.ts';

/** Four loads, N, with their covariance, N². */
interface FourLoads {
  readonly corners: PerCorner<Measured<Newton>>;
  readonly covariance: readonly number[];
}

const totalOf = ({ corners, covariance }: FourLoads): Measured => {
  const four = CORNERS.map((corner) => corners[corner]);
  return measured(
    four.reduce((sum, { value }) => sum + value, 0),
    Math.sqrt(covariance.reduce((sum, entry) => sum + entry, 0)),
    Math.min(...four.map(({ dof }) => dof)),
  );
};

const LOADS = [3064, 3015, 3381, 3337];
/** Shares of a push at the left of the rear wing. */
const LEAN = [-0.05, -0.08, 0.68, 0.45];
const total = LOADS.reduce((sum, load) => sum + load, 0);
const EXPECTED = measured(newton(total), 4, 30);
const SMALLEST = 20;

/** Four seconds of a car on which somebody leans steadily: what waiting and early make of it. */
const leanedOn = (
  push: number,
  chance: Noise,
): { settled: FourLoads | null; early: FourLoads | null } => {
  const settle = createSettle();
  const early = createEarly();
  const heard = CORNERS.map(() => ({ t: [] as number[], x: [] as number[] }));
  for (let k = 0; k < 320; k += 1)
    CORNERS.forEach((corner, pad) => {
      const t = (k + pad / 4) / 80;
      const force = (LOADS[pad] ?? 0) + (LEAN[pad] ?? 0) * push + 0.05 * chance.normal();
      settle.corners[corner].push(t, force);
      early.corners[corner].push(t, force);
      heard[pad]?.t.push(t);
      heard[pad]?.x.push(force);
    });
  const four = averageFour(perCorner((_, pad) => heard[pad] ?? { t: [], x: [] }));
  const look = early.look();
  return {
    settled:
      four && settle.now().stillness === 'settled'
        ? {
            covariance: four.covariance,
            corners: perCorner((corner) => {
              const { mean, u, dof } = four.corners[corner];
              return measured(newton(mean), u, dof);
            }),
          }
        : null,
    early: look.ok ? look.reading : null,
  };
};

describe('a steady hand', () => {
  test.each([180, 40, -60])('of %d N is settled, and the total shows it', (push) => {
    const { settled, early } = leanedOn(push, createNoise(11));
    for (const loads of [settled, early]) {
      if (!loads) throw new Error('a steady load must be settled');
      const { verdict, difference } = checkTotal(totalOf(loads), {
        expected: EXPECTED,
        smallest: SMALLEST,
      });
      expect(verdict).toBe(push > 0 ? 'heavier' : 'lighter');
      // All of the push goes through the pads.
      expect(Math.abs(difference.value - push)).toBeLessThan(0.1);
    }
  });

  test('of 5 N is not seen, and said to be too little to matter', () => {
    const { settled } = leanedOn(5, createNoise(12));
    if (!settled) throw new Error('a steady load must be settled');
    expect(checkTotal(totalOf(settled), { expected: EXPECTED, smallest: SMALLEST }).verdict).toBe(
      'as expected',
    );
  });
});

/** Independent corners with one uncertainty. */
const loadsOf = (each: number, u: number): FourLoads => ({
  corners: perCorner(() => measured(newton(each), u, Infinity)),
  covariance: Array.from({ length: 16 }, (_, index) => (index % 5 === 0 ? u * u : 0)),
});

test('interval by hand: four loads of u = 3 N and an expected total of u = 8 N make 10 N', () => {
  const expected = measured(newton(4000), 8, Infinity);
  const { difference, verdict } = checkTotal(totalOf(loadsOf(1006, 3)), { expected, smallest: 20 });
  expect(difference).toEqual({ value: 24, u: 10, dof: Infinity });
  // 24 > 1.96 · 10.
  expect(verdict).toBe('heavier');
  // 19 < 19.6, and 19 + 16.4 > 20; 3 + 16.4 < 20; 22 > 19.6 and below 23.
  const at = (value: number, smallest: number): string =>
    checkTotal(totalOf(loadsOf(1000 + value / 4, 3)), { expected, smallest }).verdict;
  expect(at(-24, 20)).toBe('lighter');
  expect(at(19, 20)).toBe('cannot tell');
  expect(at(3, 20)).toBe('as expected');
  expect(at(22, 23)).toBe('cannot tell');
});

test('with nobody there it is wrongly flagged in at most one of twenty', () => {
  const chance = createNoise(13);
  let flagged = 0;
  for (let run = 0; run < 2000; run += 1) {
    const drawn = measured(newton(4000 + 8 * chance.normal()), 8, Infinity);
    const loads = loadsOf(1000, 3);
    const noisy: FourLoads = {
      ...loads,
      corners: perCorner(() => measured(newton(1000 + 3 * chance.normal()), 3, Infinity)),
    };
    const { verdict } = checkTotal(totalOf(noisy), { expected: drawn, smallest: 1 });
    if (verdict === 'heavier' || verdict === 'lighter') flagged += 1;
  }
  expect(flagged / 2000).toBeGreaterThan(0.035);
  expect(flagged / 2000).toBeLessThan(0.065);
});

test('a difference that matters must be above zero', () => {
  expect(() => checkTotal(totalOf(loadsOf(1000, 3)), { expected: EXPECTED, smallest: 0 })).toThrow(
    RangeError,
  );
});
