import { BUDGET_OF, type BudgetOf, type BudgetShown } from '../contract/explained.ts';
import type { CrossDiagonal } from '../contract/records.ts';
import type { Budget } from './budget.ts';
import { cornerBudget, shareDerivatives, type CornerTerm, type FourParts } from './cornerTerm.ts';

const ALL: FourParts = [1, 1, 1, 1];
const ONE: Readonly<Record<'LF' | 'RF' | 'LR' | 'RR', FourParts>> = {
  LF: [1, 0, 0, 0],
  RF: [0, 1, 0, 0],
  LR: [0, 0, 1, 0],
  RR: [0, 0, 0, 1],
};

/** A result of four corner weights with its budget; kg, or a share. */
export interface ResultBudget {
  readonly of: BudgetOf;
  readonly value: number;
  readonly budget: Budget;
}

/** A budget as it is sent and shown. */
export const budgetShown = ({ of, value, budget }: ResultBudget): BudgetShown => ({
  of,
  value,
  u: budget.u,
  dof: budget.dof,
  expanded: budget.expanded,
  isComplete: budget.complete,
  lines: budget.lines.map(({ name, kind, distribution, contribution, dof, share, source }) => ({
    name,
    kind,
    distribution,
    contribution,
    dof,
    share,
    source,
  })),
});

/** The budgets of everything that four corner weights (kg) give. */
export const cornerBudgets = (
  terms: readonly CornerTerm[],
  weights: FourParts,
  cross: CrossDiagonal,
): readonly ResultBudget[] => {
  const over: Readonly<Record<'front' | 'left' | 'cross', FourParts>> = {
    front: [1, 1, 0, 0],
    left: [1, 0, 1, 0],
    cross: cross === 'RF+LR' ? [0, 1, 1, 0] : [1, 0, 0, 1],
  };
  const sum = (form: FourParts): number =>
    form.reduce((total, part, index) => total + part * (weights[index] as number), 0);
  const total = sum(ALL);
  return BUDGET_OF.map((of) => {
    if (of === 'total') return { of, value: total, budget: cornerBudget(terms, ALL) };
    if (of === 'front' || of === 'left' || of === 'cross')
      return {
        of,
        value: sum(over[of]) / total,
        budget: cornerBudget(terms, shareDerivatives(weights, over[of], ALL)),
      };
    return { of, value: sum(ONE[of]), budget: cornerBudget(terms, ONE[of]) };
  });
};
