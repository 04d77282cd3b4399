import { listed } from '../../answers/answer.ts';
import { HARD_SPACE } from '../../format/number.ts';
import { TERM_LABELS, type Budget } from '../../uncertainty/budget.ts';
import type { PaperBlock, PaperDocument } from '../paperDocument.ts';
import { dofInWords, significant, uncertain } from '../written.ts';

/** What a budget is of: a value in words, and how its unit is shown. */
export interface BudgetSubject {
  /** "Corner weight LF". */
  readonly name: string;
  /** The value as it is shown, with its unit. */
  readonly value: string;
  readonly unit: string;
  /** A difference of the value in SI as a number of that unit: `massIn`, or a share as percent. */
  inUnit(difference: number): number;
}

/** The budget as a table: a line for each term, those not known named as such, and what they make. */
const budgetBlocks = (
  { lines, u, dof, expanded, unknown, complete }: Budget,
  { name, value, unit, inUnit }: BudgetSubject,
): readonly PaperBlock[] => {
  const written = (difference: number): string => uncertain(inUnit(difference));
  const whole = `${value}: standard uncertainty ${written(u)}${HARD_SPACE}${unit} with ${dofInWords(dof)} degrees of freedom, ±${written(expanded)}${HARD_SPACE}${unit} with 95${HARD_SPACE}% coverage.`;
  const missing = listed([...new Set(unknown)].map((each) => TERM_LABELS[each]));
  return [
    { is: 'heading', text: `Uncertainty budget: ${name}` },
    {
      is: 'table',
      columns: [
        { head: 'Term', align: 'left' },
        { head: 'Type', align: 'left' },
        { head: 'Distribution', align: 'left' },
        { head: `u, ${unit}`, align: 'right' },
        { head: 'Dof', align: 'right' },
        { head: 'Share', align: 'right' },
        { head: 'From', align: 'left' },
      ],
      rows: lines.map(
        ({ name: term, kind, distribution, contribution, dof: own, share, source }) => [
          TERM_LABELS[term],
          kind,
          distribution,
          contribution === null ? 'not known' : written(contribution),
          contribution === null ? '' : dofInWords(own),
          share === null ? '' : `${significant(100 * share, 2)}${HARD_SPACE}%`,
          source,
        ],
      ),
    },
    { is: 'text', tone: 'strong', text: whole },
    ...(complete
      ? []
      : [
          {
            is: 'text',
            tone: 'plain',
            text: { text: `At least that: not known, and left out, ${missing}.`, mark: 'open' },
          } as const,
        ]),
  ];
};

/** Budgets of several values, one after the other, as a paper of their own. */
export const budgetPaper = (
  head: Pick<PaperDocument, 'title' | 'stamp' | 'created' | 'foot'>,
  budgets: readonly { readonly budget: Budget; readonly of: BudgetSubject }[],
): PaperDocument => ({
  kind: 'Uncertainty budget',
  ...head,
  pages: 'as needed',
  blocks: budgets.flatMap(({ budget, of }) => budgetBlocks(budget, of)),
});
