import type { SeasonPoint } from '../contract/season.ts';
import { capital } from '../format/capital.ts';
import { changeText, valueText, type Wanted } from '../format/valueShown.ts';

import type { Answer } from './answer.ts';

/** Whether one item is still what it was over the records asked for. */
export const seasonAnswer = (about: {
  readonly label: string;
  readonly wanted: Wanted;
  readonly points: readonly SeasonPoint[];
}): Answer => {
  const { label, wanted, points } = about;
  const name = capital(label);
  const [first, last] = [points[0], points.at(-1)];
  if (!first || !last)
    return {
      about: 'none',
      text: `No record says what ${label} was. Measure it, and it is here.`,
      tone: 'wait',
    };
  const now = valueText(wanted, last.value.value, last.value.u);
  if (points.length === 1)
    return { about: 'one', text: `${name} was ${now}, once so far.`, tone: 'calm' };
  const change = last.value.value - first.value.value;
  const u = Math.hypot(last.value.u, first.value.u);
  const said = `${name} ${now} now, ${changeText(wanted, change, u)} since the first of ${points.length}.`;
  const off = last.target === null ? null : last.value.value - last.target;
  return {
    about: `${points.length} ${off === null ? '' : 'target'}`,
    text: off === null ? said : `${said} ${changeText(wanted, off, last.value.u)} from its target.`,
    tone: 'calm',
  };
};
