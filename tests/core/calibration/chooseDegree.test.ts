import { expect, test } from 'vitest';
import { chooseDegree, type DegreeChosen } from '../../../core/calibration/chooseDegree.ts';
import type { Observation } from '../../../core/calibration/polynomialFit.ts';
import { createRandom } from '../../../drivers/pads/rig/random.ts';

const chosen = (observations: readonly Observation[]): DegreeChosen => {
  const outcome = chooseDegree(observations);
  if (!outcome.ok) throw new Error(outcome.why);
  return outcome.chosen;
};

const calibrate = (
  curve: (x: number) => number,
  options: { readonly seed: number; readonly loads: number; readonly times: number },
): readonly Observation[] => {
  const random = createRandom(options.seed);
  return Array.from({ length: options.loads * options.times }, (_, index) => {
    const x = 25 * (index % options.loads);
    return { x, y: curve(x) + 0.02 * random.normal() };
  });
};

const straight = (x: number): number => 10 * x;
const bent = (x: number): number => 10 * x - 1e-5 * x ** 2;
const twisted = (x: number): number => 10 * x + 1e-6 * x * (x - 100) * (x - 200);

test('loads applied twice: straight, bent and twisted are told from one another', () => {
  const count = (curve: (x: number) => number): readonly number[] => {
    const degrees = [0, 0, 0, 0];
    for (let seed = 1; seed <= 200; seed += 1) {
      const { degree } = chosen(calibrate(curve, { seed, loads: 9, times: 3 }));
      degrees[degree] = (degrees[degree] ?? 0) + 1;
    }
    return degrees;
  };
  // A straight pad is called bent by chance in one of twenty, which is what 0.05 means.
  expect(count(straight)[1]).toBeGreaterThanOrEqual(180);
  expect(count(bent)[2]).toBeGreaterThanOrEqual(180);
  expect(count(twisted)[3]).toBeGreaterThanOrEqual(180);
});

test('loads applied once: the next coefficient must stand out of its scatter', () => {
  let right = 0;
  for (let seed = 1; seed <= 100; seed += 1) {
    const found = chosen(calibrate(bent, { seed, loads: 9, times: 1 }));
    expect(found.evidence.kind).toBe('highest coefficient');
    if (found.degree === 2) right += 1;
  }
  expect(right).toBeGreaterThanOrEqual(85);
});

test('what no degree explains is said to remain', () => {
  const kinked = chosen(
    calibrate((x) => 10 * x + (x > 100 ? 5 : 0), { seed: 1, loads: 9, times: 3 }),
  );
  expect(kinked.evidence).toMatchObject({ kind: 'lack of fit', remains: true });
});

test('two loads are too few', () => {
  expect(
    chooseDegree([
      { x: 0, y: 0 },
      { x: 10, y: 1 },
    ]),
  ).toMatchObject({ ok: false });
});
