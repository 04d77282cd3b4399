import type { Comparison, JudgedItem } from '../compare/compareItems.ts';
import { equivalenceTail } from '../compare/verdict.ts';
import { fixed } from '../format/number.ts';
import { changeText, valueText, type Wanted } from '../format/valueShown.ts';
import type { Worked } from './worked.ts';

/** How the item that decides most was judged: that with the largest change in limits. */
export const decidingItem = ({ items }: Pick<Comparison, 'items'>): JudgedItem | null =>
  items.reduce<JudgedItem | null>(
    (most, item) =>
      most === null ||
      Math.abs(item.change.value) / item.limit > Math.abs(most.change.value) / most.limit
        ? item
        : most,
    null,
  );

const chance = (p: number): string => (p < 0.0001 ? 'less than 0.0001' : fixed(p, 4));
const dofText = (dof: number): string => (Number.isFinite(dof) ? fixed(dof, 1) : 'endless');

/** How an item was judged: its change, *same* by two one-sided tests, *moved* after Holm. */
export const compareWorked = (
  comparison: Pick<Comparison, 'items' | 'independent'>,
  about: { readonly item: JudgedItem; readonly name: string; readonly wanted: Wanted },
): readonly Worked[] => {
  const { item, name, wanted } = about;
  const { change, limit, interval } = item;
  const fine = change.u / 30;
  const text = (value: number): string => valueText(wanted, value, fine);
  const u = { name: 'u', value: text(change.u) };
  const dof = { name: 'degrees of freedom', value: dofText(change.dof) };
  const changed = { name: 'change', value: changeText(wanted, change.value, fine) };
  return [
    {
      what: `Change of ${name}`,
      formula: 'after − before − what known changes explain',
      put: [
        { name: 'after', value: text(item.after) },
        { name: 'before', value: text(item.before) },
        { name: 'explained', value: text(item.takenOut) },
      ],
      result: changed.value,
      source: 'Both records; fuel, ballast and plates as they say.',
    },
    {
      what: `Interval of ${name}`,
      formula: 'change ± Student’s t of 90 % × u',
      put: [changed, u, dof],
      result: `${text(interval[0])} to ${text(interval[1])}`,
      source: 'u by repeatability, or intermediate precision where the patch was relaid.',
    },
    {
      what: `Same: chance of so small a change had ${name} moved by its limit`,
      formula:
        'one-sided Student tail of (limit − size of the change) over u; same at 0.05 or less',
      put: [{ name: 'limit', value: text(limit) }, changed, u, dof],
      result: chance(equivalenceTail(change, limit)),
      source: 'Two one-sided tests: D. J. Schuirmann, 1987.',
    },
    {
      what: `Moved: chance of so large a change of ${name} by scatter`,
      formula:
        'two-sided Student tail of change over u, raised for all independent items after Holm; moved at 0.05 or less and beyond the limit',
      put: [changed, u, dof, { name: 'independent items', value: String(comparison.independent) }],
      result: chance(item.tail),
      source: 'S. Holm, 1979.',
    },
  ];
};
