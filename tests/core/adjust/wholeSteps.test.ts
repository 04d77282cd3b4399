import { lusolve, multiply, transpose } from 'mathjs';
import { expect, test } from 'vitest';
import {
  bestWholeSteps,
  exactSteps,
  misfits,
  type StepProblem,
} from '../../../core/adjust/wholeSteps.ts';
import { createRandom } from '../../../drivers/pads/rig/random.ts';

/** Problems like those of a plan: one or more weight rows along one pattern, four heights. */
const randomProblem = (seed: number): StepProblem => {
  const random = createRandom(seed, 3);
  const n = 1 + (seed % 4);
  const weights = 1 + (seed % 3);
  const pattern = Array.from({ length: n }, () => random.between(-2, 2));
  const rows = Array.from({ length: weights + 4 }, (_, i) => {
    const by = random.between(0.3, 1);
    return i < weights
      ? pattern.map((each) => by * each)
      : Array.from({ length: n }, () => random.between(-1, 1));
  });
  return {
    rows,
    wanted: rows.map(() => random.between(-3, 3)),
    least: Array.from({ length: n }, () => (seed % 5 === 0 ? -2 : -4)),
    most: Array.from({ length: n }, () => (seed % 7 === 0 ? 1 : 4)),
  };
};

const exhaustive = (
  problem: StepProblem,
): { readonly squares: number; readonly within: boolean } => {
  let best = { squares: Infinity, within: false };
  const n = problem.least.length;
  const walk = (steps: readonly number[]): void => {
    const at = steps.length;
    if (at === n) {
      const left = misfits(problem, steps);
      const squares = left.reduce((sum, value) => sum + value ** 2, 0);
      const within = left.every((value) => Math.abs(value) <= 1);
      if (within === best.within ? squares < best.squares : within) best = { squares, within };
      return;
    }
    for (let k = problem.least[at] as number; k <= (problem.most[at] as number); k += 1)
      walk([...steps, k]);
  };
  walk([]);
  return best;
};

test('the best whole steps are those of an exhaustive search, 400 problems', () => {
  let within = 0;
  for (let seed = 1; seed <= 400; seed += 1) {
    const problem = randomProblem(seed);
    const found = bestWholeSteps(problem);
    const wanted = exhaustive(problem);
    expect(found?.squares, `seed ${seed}`).toBeCloseTo(wanted.squares, 9);
    expect(found?.within, `seed ${seed}`).toBe(wanted.within);
    expect(found?.proved).toBe(true);
    if (wanted.within) within += 1;
  }
  // Both kinds are among them, or the test tests half.
  expect(within).toBeGreaterThan(30);
  expect(within).toBeLessThan(370);
});

test('the exact solution is that of the normal equations by a general-purpose solver', () => {
  for (let seed = 1; seed <= 100; seed += 1) {
    const { rows, wanted } = randomProblem(seed);
    const a = rows.map((row) => [...row]);
    const solved: unknown = lusolve(multiply(transpose(a), a), multiply(transpose(a), [...wanted]));
    if (!Array.isArray(solved)) throw new TypeError('the solver did not answer an array');
    const reference = solved.map((row: unknown) => Number(Array.isArray(row) ? row[0] : row));
    exactSteps({ ...randomProblem(seed) })?.forEach((value, i) =>
      expect(value).toBeCloseTo(reference[i] as number, 8),
    );
  }
});

test('without limits it is the same as with limits out of the way', () => {
  for (let seed = 1; seed <= 100; seed += 1) {
    const problem = randomProblem(seed);
    const n = problem.least.length;
    const free = bestWholeSteps({
      ...problem,
      least: new Array<number>(n).fill(-Infinity),
      most: new Array<number>(n).fill(Infinity),
    });
    const wide = bestWholeSteps({
      ...problem,
      least: new Array<number>(n).fill(-1000),
      most: new Array<number>(n).fill(1000),
    });
    expect(free).toEqual(wide);
  }
});

test('two adjusters that do the same, and limits that allow nothing, have no answer', () => {
  const same: StepProblem = {
    rows: [
      [1, 2],
      [0.5, 1],
    ],
    wanted: [1, 1],
    least: [-9, -9],
    most: [9, 9],
  };
  expect(bestWholeSteps(same)).toBeNull();
  expect(exactSteps(same)).toBeNull();
  expect(bestWholeSteps({ rows: [[1]], wanted: [1], least: [3], most: [2] })).toBeNull();
});
