import { budget, type Budget } from '../../../core/uncertainty/budget.ts';

/** A budget of a corner weight with a term that is not known: invented numbers, kg. */
export const exampleBudget = (): Budget =>
  budget([
    {
      name: 'repeatability',
      kind: 'A',
      distribution: 't',
      u: 0.12,
      dof: 9,
      sensitivity: 1,
      source: 'study of repeated lowerings, mean of 1',
    },
    {
      name: 'patchTwist',
      kind: 'B',
      distribution: 'normal',
      u: 0.00002,
      dof: Infinity,
      sensitivity: 4300,
      source: 'survey of the patch',
    },
    {
      name: 'wind',
      kind: 'B',
      distribution: 'arcsine',
      u: null,
      dof: Infinity,
      sensitivity: 1,
      source: 'watch the total and the sides over a minute, or go indoors',
    },
  ]);
