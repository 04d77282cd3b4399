import type { SeasonPoint } from '../contract/season.ts';
import { changeText, valueText, type Wanted } from '../format/valueShown.ts';
import { NOT_KNOWN, type Worked } from './worked.ts';

/** How the change over the season and the distance from the target come about. */
export const seasonWorked = (wanted: Wanted, points: readonly SeasonPoint[]): readonly Worked[] => {
  const [first, last] = [points[0], points.at(-1)];
  const fine = (last?.value.u ?? 0) / 30 || null;
  const text = (value: number | null | undefined): string =>
    value === null || value === undefined ? NOT_KNOWN : valueText(wanted, value, fine);
  const now = { name: 'newest', value: text(last?.value.value) };
  const target = last?.target ?? null;
  return [
    {
      what: 'Change over the records',
      formula: 'newest − first; the smallest u it can have is both u, squared and summed',
      put: [
        now,
        { name: 'first', value: text(first?.value.value) },
        { name: 'u of the newest', value: text(last?.value.u) },
        { name: 'u of the first', value: text(first?.value.u) },
      ],
      result:
        first && last && points.length > 1
          ? changeText(wanted, last.value.value - first.value.value, fine)
          : `${NOT_KNOWN}: two records are needed`,
      source: 'The records asked for, oldest first; stale values are left out.',
    },
    {
      what: 'From its target',
      formula: 'newest − target of its sheet',
      put: [now, { name: 'target', value: text(target) }],
      result:
        last && target !== null
          ? changeText(wanted, last.value.value - target, fine)
          : `${NOT_KNOWN}: no sheet has a target for it`,
      source: 'The sheet that the newest record was measured to.',
    },
  ];
};
