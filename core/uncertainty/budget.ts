import { combine } from './combine.ts';
import type { Distribution } from './standardUncertainty.ts';

/** The terms of a budget, in the order in which they are shown. */
export const TERM_LABELS = {
  reading: 'noise of the settled average',
  repeatability: 'repeatability of lowering',
  calibration: 'calibration',
  referenceMasses: 'reference masses of the calibration',
  zero: 'zero',
  creepAndHysteresis: 'creep and hysteresis',
  spanDrift: 'span drift since calibration',
  resolution: 'resolution',
  temperature: 'temperature',
  offCentreLoad: 'off-centre load',
  frictionAndScrub: 'friction and scrub band',
  wind: 'wind',
  wheelRadius: 'set-up wheel radius',
  patchTwist: 'patch twist',
  gravity: 'gravity',
} as const satisfies Record<string, string>;

export type TermName = keyof typeof TERM_LABELS;

/** One line of a budget. */
export interface BudgetTerm {
  readonly name: TermName;
  /** Evaluated from repeated readings (A) or by other means (B). */
  readonly kind: 'A' | 'B';
  readonly distribution: Distribution;
  /** Standard uncertainty of the input, in its own unit; null where it is not known. */
  readonly u: number | null;
  readonly dof: number;
  /** Change of the result for one unit of the input. */
  readonly sensitivity: number;
  /** Where the number comes from, or what would make it known. */
  readonly source: string;
}

export interface BudgetLine extends BudgetTerm {
  /** |sensitivity|·u in the unit of the result; null for an unknown term. */
  readonly contribution: number | null;
  /** Share of the known variance; null for an unknown term. */
  readonly share: number | null;
}

export interface Budget {
  readonly lines: readonly BudgetLine[];
  /** Combined standard uncertainty of the known terms, and its effective degrees of freedom. */
  readonly u: number;
  readonly dof: number;
  /** Half width of the interval with 95 % coverage. */
  readonly expanded: number;
  /**
   * Terms that are not known: the result leaves them out and is then only a lower bound, which must be
   * shown with it.
   */
  readonly unknown: readonly TermName[];
  readonly complete: boolean;
}

/**
 * Uncertainty budget of independent terms (JCGM 100:2008, 5.1.2, G.4, 7.2): combined, effective
 * degrees of freedom by Welch–Satterthwaite, expanded at 95 %, the share of each. What is correlated
 * must be put together into one term before. An unknown term whose sensitivity is zero does not matter
 * to this result and is not called unknown. Throws RangeError on a term that is none.
 */
export const budget = (terms: readonly BudgetTerm[]): Budget => {
  for (const { name, sensitivity } of terms)
    if (!Number.isFinite(sensitivity)) throw new RangeError(`${name}: not a sensitivity`);
  const through = terms.map(({ name, kind, u, dof, sensitivity }) => ({
    name,
    kind,
    dof,
    u: sensitivity === 0 ? 0 : u === null ? null : Math.abs(sensitivity) * u,
  }));
  const combined = combine(through);
  const unknown = through.flatMap(({ name, u }) => (u === null ? [name] : []));
  return {
    lines: terms.map((term, index) => ({
      ...term,
      contribution: through[index]?.u ?? null,
      share: combined.shares[index] ?? null,
    })),
    u: combined.u,
    dof: combined.dof,
    expanded: combined.expanded,
    unknown: [...new Set(unknown)],
    complete: unknown.length === 0,
  };
};
