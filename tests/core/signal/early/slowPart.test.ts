import { expect, test } from 'vitest';
import { FUNCTIONS, SHAPES, SLOW } from '../../../../core/signal/early/modalBasis.ts';
import { SLOW_SIZE, WARP } from '../../../../core/signal/early/priors.ts';
import { PARAMETERS } from '../../../../core/signal/early/priorTerms.ts';
import { settledLoads } from '../../../../core/signal/early/slowPart.ts';

/**
 * One direction, the warp: z = X + a·g + noise at a few times, X anything, a normal about zero with twice
 * the size of a pad (the warp has unit length over four), or, three times as likely, no a at all.
 */
const problem = (amount: number, sd: number) => {
  const g = [1, 0.8, 0.62, 0.5, 0.4];
  const z = g.map((one, k) => 7 + amount * one + sd * ([0.3, -1.1, 0.8, 0.4, -0.6][k] as number));
  const prior = 2 * SLOW_SIZE;

  // What a fit with the slow part has: normal equations of two unknowns, solved.
  const n = g.length;
  const [sg, sgg] = [g.reduce((s, x) => s + x, 0), g.reduce((s, x) => s + x * x, 0)];
  const [sz, sgz] = [
    z.reduce((s, x) => s + x, 0),
    z.reduce((s, x, k) => s + x * (g[k] as number), 0),
  ];
  const [a11, a12, a22] = [n / sd ** 2, sg / sd ** 2, sgg / sd ** 2 + 1 / prior ** 2];
  const det = a11 * a22 - a12 * a12;
  const [cXX, cXa, caa] = [a22 / det, -a12 / det, a11 / det];
  const [X, a] = [(cXX * sz + cXa * sgz) / sd ** 2, (cXa * sz + caa * sgz) / sd ** 2];

  // The mixture by brute force over a, X done in closed form for each (it has no prior).
  const evidence = (one: number): { weight: number; mean: number } => {
    const rest = z.map((value, k) => value - one * (g[k] as number));
    const mean = rest.reduce((s, x) => s + x, 0) / n;
    const squares = rest.reduce((s, x) => s + (x - mean) ** 2, 0);
    return { weight: Math.exp(-squares / (2 * sd ** 2)), mean };
  };
  const within = sd ** 2 / n;
  const points = [{ ...evidence(0), by: 3 }];
  const step = prior / 4000;
  for (let one = -8 * prior; one <= 8 * prior; one += step) {
    const density = Math.exp((-one * one) / (2 * prior ** 2)) / (prior * Math.sqrt(2 * Math.PI));
    points.push({ ...evidence(one), by: density * step });
  }
  const total = points.reduce((s, { weight, by }) => s + weight * by, 0);
  const mean = points.reduce((s, { weight, by, mean: one }) => s + weight * by * one, 0) / total;
  const variance =
    within + points.reduce((s, p) => s + p.weight * p.by * (p.mean - mean) ** 2, 0) / total;
  return { X, a, cXX, cXa, caa, mean, variance };
};

test.each([
  [0, 0.5],
  [0, 5],
  [1.5, 0.5],
  [6, 0.5],
  [12, 5],
])(
  'mean and variance over both answers are those of brute force: %d N, noise %d N',
  (amount, sd) => {
    const { X, a, cXX, cXa, caa, mean, variance } = problem(amount, sd);
    const covariance = new Float64Array(PARAMETERS ** 2);
    const coefficients = new Float64Array(4 * FUNCTIONS);
    const other = 0.3;
    WARP.forEach((w, i) => {
      coefficients[i * FUNCTIONS] = w * X;
      coefficients[i * FUNCTIONS + 1] = w * a;
      WARP.forEach((v, j) => {
        const [x, y] = [i * FUNCTIONS, j * FUNCTIONS];
        const across = (i === j ? 1 : 0) - w * v;
        covariance[x * PARAMETERS + y] = w * v * cXX + across * other;
        covariance[x * PARAMETERS + y + 1] = w * v * cXa;
        covariance[(x + 1) * PARAMETERS + y] = w * v * cXa;
        covariance[(x + 1) * PARAMETERS + y + 1] = w * v * caa;
      });
    });
    const shape = new Float64Array(SHAPES);
    shape[SLOW] = Math.log(1.2);
    // So long after that nothing is left to give way.
    const found = settledLoads({ coefficients, covariance, shape }, 1, 100);
    const along = found.values.reduce((s, value, i) => s + value * (WARP[i] as number), 0);
    let ofAlong = 0;
    let trace = 0;
    found.covariance.forEach((entry, index) => {
      ofAlong += entry * (WARP[index >> 2] as number) * (WARP[index & 3] as number);
      if (index % 5 === 0) trace += entry;
    });
    expect(along).toBeCloseTo(mean, 4);
    expect(ofAlong / variance).toBeCloseTo(1, 4);
    // What the slow part does not touch stays as it was: three directions of the four.
    expect(trace - ofAlong).toBeCloseTo(3 * other, 9);
  },
);
