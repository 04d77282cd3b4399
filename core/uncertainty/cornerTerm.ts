import { budget, type Budget, type BudgetTerm, type TermName } from './budget.ts';
import { effectiveDof, type Part } from './combine.ts';
import type { Distribution } from './standardUncertainty.ts';

/** Four numbers in the order LF, RF, LR, RR. */
export type FourParts = readonly [number, number, number, number];

/** How a cause of error reaches the four corner weights, kg. */
export type CornerEffect =
  /** Size not known; the pattern that it would take, where that much is, else null. */
  | { readonly sort: 'unknown'; readonly pattern: FourParts | null }
  /** Each corner by itself, independent of the others. */
  | { readonly sort: 'each'; readonly parts: readonly [Part, Part, Part, Part] }
  /** One input moves all four together: kg per unit of the input, and the input's uncertainty. */
  | {
      readonly sort: 'together';
      readonly pattern: FourParts;
      readonly u: number;
      readonly dof: number;
    }
  /** Scatter with a covariance of its own, kg², row by row. */
  | { readonly sort: 'covariance'; readonly covariance: readonly number[]; readonly dof: number };

/** A cause of error before it is asked what it does to one result. */
export interface CornerTerm {
  readonly name: TermName;
  readonly kind: 'A' | 'B';
  readonly distribution: Distribution;
  readonly effect: CornerEffect;
  readonly source: string;
}

/**
 * A term that is not known, and what would make it known. With a pattern it still is known not to
 * reach a result that the pattern cancels in: a twisted patch does not change the total.
 */
export const unknownTerm = (
  name: TermName,
  kind: 'A' | 'B',
  { need, pattern }: { readonly need: string; readonly pattern: FourParts | null },
): CornerTerm => ({
  name,
  kind,
  distribution: 'normal',
  effect: { sort: 'unknown', pattern },
  source: need,
});

/** Change of the result for one unit of the pattern; exactly zero where only rounding is left. */
const through = (pattern: FourParts, derivatives: FourParts): number => {
  const sum = pattern.reduce((all, each, index) => all + each * (derivatives[index] as number), 0);
  return Math.abs(sum) < 1e-12 * Math.hypot(...pattern) * Math.hypot(...derivatives) ? 0 : sum;
};

/**
 * One cause as a line of the budget of a result with these derivatives to the four corner weights:
 * (1, 1, 1, 1) for the total, scale·(n − ratio·d)/total for a share. Where one input moves all corners
 * the line has that input's own uncertainty and the sensitivity; else u is already the result's.
 */
const projectTerm = (term: CornerTerm, derivatives: FourParts): BudgetTerm => {
  const { name, kind, distribution, effect, source } = term;
  const line = { name, kind, distribution, source };
  if (effect.sort === 'unknown') {
    const sensitivity = effect.pattern ? through(effect.pattern, derivatives) : 1;
    return { ...line, u: null, dof: Infinity, sensitivity };
  }
  if (effect.sort === 'together') {
    const sensitivity = through(effect.pattern, derivatives);
    return { ...line, u: effect.u, dof: effect.dof, sensitivity };
  }
  if (effect.sort === 'each') {
    const parts = effect.parts.map(({ u, dof }, index) => ({
      u: Math.abs(derivatives[index] as number) * u,
      dof,
    }));
    return {
      ...line,
      u: Math.hypot(...parts.map(({ u }) => u)),
      dof: effectiveDof(parts),
      sensitivity: 1,
    };
  }
  let variance = 0;
  for (let i = 0; i < 4; i += 1)
    for (let j = 0; j < 4; j += 1)
      variance +=
        (derivatives[i] as number) *
        (derivatives[j] as number) *
        (effect.covariance[4 * i + j] as number);
  return { ...line, u: Math.sqrt(Math.max(0, variance)), dof: effect.dof, sensitivity: 1 };
};

/** Budget of one result of the four corner weights. */
export const cornerBudget = (terms: readonly CornerTerm[], derivatives: FourParts): Budget =>
  budget(terms.map((term) => projectTerm(term, derivatives)));

/** Derivatives of a share (over·w)/(under·w) to the four corner weights. */
export const shareDerivatives = (
  weights: FourParts,
  over: FourParts,
  under: FourParts,
): FourParts => {
  const sum = (form: FourParts): number =>
    form.reduce((total, each, index) => total + each * (weights[index] as number), 0);
  const bottom = sum(under);
  if (!(Math.abs(bottom) > 0)) throw new RangeError('no share of nothing');
  const ratio = sum(over) / bottom;
  const at = (k: 0 | 1 | 2 | 3): number => (over[k] - ratio * under[k]) / bottom;
  return [at(0), at(1), at(2), at(3)];
};
