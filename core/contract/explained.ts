import { z } from 'zod';
import { dofSchema } from '../sheet/dof.ts';
import { TERM_LABELS, type TermName } from '../uncertainty/budget.ts';

/** Uncertainty budgets as they are shown and exported. */

const TERM_NAMES = Object.keys(TERM_LABELS) as [TermName, ...TermName[]];

/** Results a budget is made for: four corner weights in kg, the total in kg, three shares. */
export const BUDGET_OF = ['LF', 'RF', 'LR', 'RR', 'total', 'front', 'left', 'cross'] as const;
export type BudgetOf = (typeof BUDGET_OF)[number];

export const budgetShownSchema = z.strictObject({
  of: z.enum(BUDGET_OF),
  /** kg, or a share. */
  value: z.number(),
  u: z.number().nonnegative(),
  dof: dofSchema,
  /** Half width of the interval with 95 % coverage. */
  expanded: z.number().nonnegative(),
  lines: z.array(
    z.strictObject({
      name: z.enum(TERM_NAMES),
      kind: z.enum(['A', 'B']),
      distribution: z.string(),
      /** In the unit of the result; null where it is not known. */
      contribution: z.number().nullable(),
      dof: dofSchema,
      share: z.number().nullable(),
      source: z.string(),
    }),
  ),
  /** False: terms are not known, and what is shown is a lower bound. */
  isComplete: z.boolean(),
});
export type BudgetShown = z.infer<typeof budgetShownSchema>;
