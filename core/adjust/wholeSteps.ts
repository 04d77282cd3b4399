import { factor, solveFactored } from '../signal/early/cholesky.ts';

/** Rows to be brought near zero: `rows[i]·steps − wanted[i]`, each already over its tolerance. */
export interface StepProblem {
  readonly rows: readonly (readonly number[])[];
  readonly wanted: readonly number[];
  /** Fewest and most steps of each adjuster; ±Infinity is no limit. */
  readonly least: readonly number[];
  readonly most: readonly number[];
}

export interface StepSolution {
  readonly steps: readonly number[];
  /** Sum of the squares of what is left, in tolerances. */
  readonly squares: number;
  /** Whether nothing that is left is above its tolerance. */
  readonly within: boolean;
  /** Whether no better one exists; false only where the search was cut short. */
  readonly proved: boolean;
}

/** Branches looked at before a search is cut short: some 20 ms, and far beyond any plan's need. */
const MOST_LOOKS = 20_000;
const MOST_WEIGHINGS = 60;
/** Rounding of a squared misfit. */
const ROUNDING = 1e-9;

/** What a step vector leaves of each row, in tolerances. */
export const misfits = (problem: StepProblem, steps: readonly number[]): readonly number[] =>
  problem.rows.map(
    (row, i) =>
      row.reduce((sum, each, j) => sum + each * (steps[j] as number), 0) -
      (problem.wanted[i] as number),
  );

const squaresOf = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value * value, 0);

/** Real steps that leave the least squares, limits left out. Null where two adjusters do the same. */
export const exactSteps = (problem: StepProblem): readonly number[] | null =>
  normalEquations(problem)?.centre ?? null;

const normalEquations = (
  { rows, wanted }: StepProblem,
  weights?: readonly number[],
): { readonly l: Float64Array; readonly centre: readonly number[] } | null => {
  const n = rows[0]?.length ?? 0;
  const l = new Float64Array(n * n);
  const centre = new Float64Array(n);
  rows.forEach((row, i) => {
    const weight = weights?.[i] ?? 1;
    for (let a = 0; a < n; a += 1) {
      const each = weight * (row[a] as number);
      centre[a] = (centre[a] as number) + each * (wanted[i] as number);
      for (let b = 0; b < n; b += 1)
        l[a * n + b] = (l[a * n + b] as number) + each * (row[b] as number);
    }
  });
  const diagonal = Array.from({ length: n }, (_, i) => l[i * (n + 1)] as number);
  if (!factor(l, n)) return null;
  // Rounding leaves some 1e-16 of the diagonal where a column depends on those before it.
  if (diagonal.some((d, i) => (l[i * (n + 1)] as number) ** 2 < 1e-12 * d)) return null;
  solveFactored(l, n, centre);
  return { l, centre: [...centre] };
};

/**
 * Whether not even turns without steps and limits can leave every row within its tolerance: proved,
 * or not known. Misfits r of a fit with weights w are square to it, Σ w·r·row = 0, so for any turns
 * Σ w·r·left = Σ w·r², which is more than Σ w·|r| could give if each |left| were at most one. The
 * weights that prove most come by Lawson's rule, w times |r| (from memory; the proof needs no rule).
 */
const isBeyondReach = (problem: StepProblem): boolean => {
  let weights = problem.rows.map(() => 1);
  for (let round = 0; round < MOST_WEIGHINGS; round += 1) {
    const normal = normalEquations(problem, weights);
    if (!normal) return false;
    const left = misfits(problem, normal.centre).map(Math.abs);
    if (left.every((value) => value <= 1)) return false;
    const sum = (power: number): number =>
      left.reduce((s, value, i) => s + (weights[i] as number) * value ** power, 0);
    if (sum(2) > sum(1) * (1 + ROUNDING)) return true;
    const scale = sum(1);
    weights = weights.map((weight, i) => (weight * (left[i] as number)) / scale);
  }
  return false;
};

/**
 * The best whole steps, by branch and bound in the order of Schnorr and Euchner (C. P. Schnorr and
 * M. Euchner, Mathematical Programming 66 (1994) 181): with AᵀA = L·Lᵀ the squares are those of the
 * exact solution plus Σ_j (Σ_{i≥j} l_ij·(step_i − exact_i))², so a branch is left when its first
 * terms alone are above the best found.
 *
 * Best is the least sum of squares among points that leave every row within its tolerance, and where
 * there is none, among all. Null where two adjusters do the same, or the limits allow nothing.
 */
export const bestWholeSteps = (problem: StepProblem): StepSolution | null => {
  const { rows, least, most } = problem;
  const n = rows[0]?.length ?? 0;
  if (least.some((value, i) => Math.ceil(value) > Math.floor(most[i] as number))) return null;
  const done = (steps: readonly number[], proved: boolean): StepSolution => {
    const left = misfits(problem, steps);
    const within = left.every((value) => Math.abs(value) <= 1 + ROUNDING);
    return { steps, squares: squaresOf(left), within, proved };
  };
  if (n === 0) return done([], true);
  const normal = normalEquations(problem);
  if (!normal) return null;
  const { l, centre } = normal;
  const floor = squaresOf(misfits(problem, centre));

  const search = (radius: number, accepts: (steps: readonly number[]) => boolean) => {
    let best: { steps: readonly number[]; squares: number } | null = null;
    let bound = radius;
    let looks = 0;
    const steps = new Array<number>(n).fill(0);
    /** Decides adjuster `j`, those above it being decided; `sum` is what they cost. */
    const descend = (j: number, sum: number): void => {
      const pivot = l[j * (n + 1)] as number;
      let middle = centre[j] as number;
      for (let i = j + 1; i < n; i += 1)
        middle -=
          ((l[i * n + j] as number) / pivot) * ((steps[i] as number) - (centre[i] as number));
      const low = Math.ceil(least[j] as number);
      const high = Math.floor(most[j] as number);
      // From the nearest outwards on both sides; each side ends at its limit or at the bound.
      let up = Math.min(high, Math.max(low, Math.round(middle)));
      let down = up - 1;
      while (looks < MOST_LOOKS && (up <= high || down >= low)) {
        const takesUp = up <= high && (down < low || up - middle <= middle - down);
        const value = takesUp ? up : down;
        const cost = sum + (pivot * (value - middle)) ** 2;
        // The nearest left is too far, so all beyond it are.
        if (cost > bound) break;
        if (takesUp) up += 1;
        else down -= 1;
        looks += 1;
        steps[j] = value;
        if (j > 0) descend(j - 1, cost);
        else if (accepts(steps)) {
          best = { steps: [...steps], squares: cost };
          bound = cost - ROUNDING * (1 + cost);
        }
      }
    };
    descend(n - 1, floor);
    return { best: best as { steps: readonly number[] } | null, whole: looks < MOST_LOOKS };
  };

  const isWithin = (steps: readonly number[]): boolean =>
    misfits(problem, steps).every((value) => Math.abs(value) <= 1 + ROUNDING);
  // Within every tolerance the squares cannot be more than the number of rows.
  const inside = isBeyondReach(problem)
    ? { best: null, whole: true }
    : search(rows.length * (1 + ROUNDING), isWithin);
  if (inside.best) return done(inside.best.steps, inside.whole);
  const anywhere = search(Infinity, () => true);
  return anywhere.best && done(anywhere.best.steps, inside.whole && anywhere.whole);
};
