import { chanceOf } from '../answers/scrutineeringAnswer.ts';
import { fixed } from '../format/number.ts';
import { changeText, valueText, type Wanted } from '../format/valueShown.ts';
import type { MarginRow } from '../scrutineering/marginBoard.ts';
import { NOT_KNOWN, type Worked } from './worked.ts';

/** How their next reading and the chance to pass of one item come about. */
export const scrutineeringWorked = (row: MarginRow, wanted: Wanted): readonly Worked[] => {
  const { item, theirs, margin } = row;
  const { ours, prediction, name } = item;
  const unknown = `${NOT_KNOWN}: ${row.why ?? 'nothing is known of their reading.'}`;
  const spread = prediction ? Math.sqrt(prediction.between + prediction.within) : null;
  const fine = spread === null || spread === 0 ? null : spread / 30;
  const text = (value: number | null): string =>
    value === null ? NOT_KNOWN : valueText(wanted, value, fine);
  const limits = (['low', 'high'] as const).flatMap((end) => {
    const limit = item.limit[end];
    return limit === null
      ? []
      : [{ name: end === 'low' ? 'at least' : 'at most', value: text(limit) }];
  });
  const reading = { name: 'their reading', value: text(theirs?.value ?? null) };
  const stated =
    prediction && prediction.limit > 0
      ? [{ name: 'their limit of error', value: text(prediction.limit) }]
      : [];
  return [
    {
      what: `Their reading of ${name}`,
      formula: 'our reading + theirs less ours, on the mean of the events',
      put: [
        { name: 'ours', value: text(ours) },
        {
          name: 'theirs less ours',
          value: prediction ? changeText(wanted, prediction.shift, fine) : NOT_KNOWN,
        },
      ],
      result: theirs ? text(theirs.value) : unknown,
      source: 'Pairs of readings of one car in one state; pairs of one event share a bias.',
    },
    {
      what: `Margin of ${name}`,
      formula: 'from their reading to the nearer limit; below zero it fails',
      put: [reading, ...limits],
      result: margin === null ? unknown : changeText(wanted, margin, fine),
      source: 'The rule’s limit as it was typed.',
    },
    {
      what: `Chance of ${name} to pass`,
      formula: 'Student’s distribution of margin over spread, one-sided for each limit',
      put: [
        reading,
        ...limits,
        { name: 'spread of one reading', value: text(spread) },
        {
          name: 'degrees of freedom',
          value:
            prediction === null
              ? NOT_KNOWN
              : Number.isFinite(prediction.dof)
                ? fixed(prediction.dof, 0)
                : 'endless',
        },
        ...stated,
      ],
      result: row.probability === null ? unknown : chanceOf(row),
      source: 'Spread from events: s √(1 + 1/n) of the event means, or as they state it.',
    },
  ];
};
