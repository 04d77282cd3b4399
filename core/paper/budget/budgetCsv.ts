import { TERM_LABELS, type Budget, type BudgetLine } from '../../uncertainty/budget.ts';
import { csvText, type CsvColumn } from '../csv.ts';

/** A budget and what it is of. */
export interface NamedBudget {
  readonly name: string;
  /** Best estimate, in `unit`. */
  readonly value: number;
  /** SI unit of the value, "1" for a share. */
  readonly unit: string;
  readonly budget: Budget;
}

interface Row extends Omit<NamedBudget, 'budget'> {
  /** A term; null for the whole. */
  readonly line: BudgetLine | null;
  readonly whole: Budget;
}

/** Columns of uncertainty budgets: a row for each term, then one for the whole, of each value. */
const BUDGET_COLUMNS: readonly CsvColumn<Row>[] = [
  { name: 'of', means: 'what the budget is of', of: ({ name }) => name },
  { name: 'value', means: 'its best estimate', of: ({ value }) => value },
  { name: 'unit', means: 'of value, u and expanded; 1 is a share of one', of: ({ unit }) => unit },
  {
    name: 'term',
    means: 'what contributes; "combined" is the whole',
    of: ({ line }) => (line ? TERM_LABELS[line.name] : 'combined'),
  },
  {
    name: 'type',
    means: 'A from repeated readings, B by other means',
    of: ({ line }) => line?.kind ?? null,
  },
  {
    name: 'distribution',
    means: 'what is believed of the input',
    of: ({ line }) => line?.distribution ?? null,
  },
  {
    name: 'u input',
    means: 'standard uncertainty of the input in its own unit; empty where it is not known',
    of: ({ line }) => line?.u ?? null,
  },
  {
    name: 'sensitivity',
    means: 'change of the value for one unit of the input',
    of: ({ line }) => line?.sensitivity ?? null,
  },
  {
    name: 'u',
    means: 'contribution to the value, of the whole its combined standard uncertainty',
    of: ({ line, whole }) => (line ? line.contribution : whole.u),
  },
  {
    name: 'dof',
    means: 'degrees of freedom, of the whole the effective ones; inf is no limit',
    of: ({ line, whole }) => (line ? line.dof : whole.dof),
  },
  {
    name: 'share',
    means: 'of the known variance, from 0 to 1',
    of: ({ line }) => line?.share ?? null,
  },
  {
    name: 'expanded',
    means: 'half width of the interval with 95 % coverage, of the whole',
    of: ({ line, whole }) => (line ? null : whole.expanded),
  },
  {
    name: 'complete',
    means: 'no: a term is not known and left out, so that u is a lower bound',
    of: ({ line, whole }) => (line ? null : whole.complete),
  },
  { name: 'source', means: 'where the number comes from', of: ({ line }) => line?.source ?? null },
];

/** Budgets as a file (RFC 4180), with enough digits to combine them again. */
export const budgetCsv = (budgets: readonly NamedBudget[]): string =>
  csvText(
    BUDGET_COLUMNS,
    budgets.flatMap(({ name, value, unit, budget }) =>
      [...budget.lines, null].map((line) => ({ name, value, unit, line, whole: budget })),
    ),
  );
