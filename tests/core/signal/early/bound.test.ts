import { describe, expect, test } from 'vitest';
import { boundAfter, boundTime, WANTED } from '../../../studies/boundTime.ts';
import { boundRow, cramerRao, type BoundProblem } from '../../../studies/cramerRao.ts';
import { droppedCar, freeResponse } from '../../../studies/modalCar.ts';

const PROBLEM: BoundProblem = {
  noise: 0.5,
  modes: [
    { omega: 14, damping: 0.4 },
    { omega: 20, damping: 1 },
    { omega: 27, damping: 1.2 },
  ],
  pads: [
    {
      times: [0.1, 0.2],
      amplitudes: [
        [-900, 100],
        [300, -50],
        [200, 70],
      ],
    },
  ],
};

/** Load of the problem's pad, written with the textbook's functions. */
const load = (modes: BoundProblem['modes'], t: number): number =>
  modes.reduce((sum, { omega, damping }, mode) => {
    const [a = 0, b = 0] = PROBLEM.pads[0]?.amplitudes[mode] ?? [];
    const [one, two] = freeResponse({ hertz: omega / (2 * Math.PI), damping }, t);
    return sum + a * one + b * two;
  }, 0);

test('rows are the limits of differences', () => {
  for (const t of [0.001, 0.05, 0.3, 1.1]) {
    const { load: own, shared } = boundRow(PROBLEM, 0, t);
    expect(own[0]).toBe(1);
    PROBLEM.modes.forEach(({ omega, damping }, mode) => {
      const [one, two] = freeResponse({ hertz: omega / (2 * Math.PI), damping }, t);
      expect(own[1 + 2 * mode]).toBeCloseTo(one, 10);
      expect(own[2 + 2 * mode]).toBeCloseTo(two, 10);
      const by = (key: 'omega' | 'damping', h: number): number =>
        load(
          PROBLEM.modes.map((one_, k) => (k === mode ? { ...one_, [key]: one_[key] + h } : one_)),
          t,
        );
      // Five-point rules, their steps wide enough for the digits that critical damping costs.
      const slope = (key: 'omega' | 'damping', h: number): number =>
        (8 * (by(key, h) - by(key, -h)) - (by(key, 2 * h) - by(key, -2 * h))) / (12 * h);
      expect(Math.abs((shared[mode] as number) - slope('omega', 0.01))).toBeLessThan(1e-4);
      expect(Math.abs((shared[3 + mode] as number) - slope('damping', 0.003))).toBeLessThan(1e-3);
    });
  }
});

describe('bounds', () => {
  test('no modes: the standard error of a mean', () => {
    const [only] = cramerRao({
      noise: 3,
      modes: [],
      pads: [{ times: Array.from({ length: 36 }, (_, k) => k), amplitudes: [] }],
    });
    expect(only).toBeCloseTo(0.5, 12);
  });

  test('one mode, one pad: the inverse of an information matrix of numeric differences', () => {
    const times = Array.from({ length: 60 }, (_, k) => k / 80);
    const theta = [3000, -900, 200, 16, 0.45];
    const at = (p: readonly number[], t: number): number => {
      const [settled = 0, a = 0, b = 0, omega = 0, damping = 0] = p;
      const [one, two] = freeResponse({ hertz: omega / (2 * Math.PI), damping }, t);
      return settled + a * one + b * two;
    };
    const rows = times.map((t) =>
      theta.map((value, k) => {
        const h = 1e-4 * Math.abs(value);
        const moved = (by: number) => theta.map((one, j) => (j === k ? one + by : one));
        return (at(moved(h), t) - at(moved(-h), t)) / (2 * h);
      }),
    );
    // Gauss-Jordan, with the right side of the first parameter.
    const matrix = theta.map((_, i) => [
      ...theta.map((__, j) => rows.reduce((sum, row) => sum + (row[i] ?? 0) * (row[j] ?? 0), 0)),
      i === 0 ? 1 : 0,
    ]);
    for (let k = 0; k < 5; k += 1) {
      const pivot = matrix[k] as number[];
      const by = pivot[k] as number;
      matrix.forEach((row, i) => {
        if (i === k) return;
        const share = (row[k] as number) / by;
        row.forEach((_, j) => (row[j] = (row[j] as number) - share * (pivot[j] as number)));
      });
    }
    const variance = (matrix[0]?.[5] as number) / (matrix[0]?.[0] as number);
    const [bound] = cramerRao({
      noise: 0.5,
      modes: [{ omega: 16, damping: 0.45 }],
      pads: [{ times, amplitudes: [[-900, 200]] }],
    });
    expect((bound as number) / (0.5 * Math.sqrt(variance))).toBeCloseTo(1, 4);
  });

  test('falls with time, and its time is where it meets 0.2 kg', () => {
    const car = droppedCar(3, 0.5);
    const options = { rate: 80, noise: 0.5 };
    const t = boundTime(car, options);
    expect(1.96 * boundAfter(car, { ...options, seconds: t + 0.02 })).toBeLessThan(WANTED);
    expect(1.96 * boundAfter(car, { ...options, seconds: t - 0.02 })).toBeGreaterThan(WANTED);
    // The same problem in Python with numpy's pseudo-inverse and numeric derivatives: 0.463 s.
    expect(t).toBeGreaterThan(0.43);
    expect(t).toBeLessThan(0.49);
  });
});
