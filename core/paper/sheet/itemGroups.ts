import { cornerLabel, type CornerLabelStyle } from '../../corners.ts';
import type { Item } from '../../sheet/items.ts';
import { ITEM_KINDS, type ItemKind } from '../../sheet/itemKinds.ts';

/** Kinds of items that are read together, with what stands over them. */
const GROUPS: readonly (readonly [string, readonly ItemKind[]])[] = [
  ['Weights', ['weight', 'total', 'frontShare', 'leftShare', 'crossShare']],
  ['Ride heights', ['height', 'rake']],
  ['Camber', ['camber']],
  ['Toe', ['toe', 'totalToe', 'thrust']],
  ['Caster and steering axis', ['caster', 'steeringAxis', 'rackCentre']],
  ['Bump steer', ['bumpSteer']],
  ['Springs and travel', ['perch', 'droopGap', 'bumpGap', 'damperLength', 'dropLink']],
  ['Wheels', ['wheelbase', 'pressure']],
  ['Masses on board', ['driver', 'fuel', 'ballast']],
  ['Others', ['extra']],
];

/** Items in groups, their own order kept; groups without any are left out. */
export const itemGroups = (
  items: readonly Item[],
): readonly { readonly heading: string; readonly items: readonly Item[] }[] =>
  GROUPS.map(([heading, kinds]) => ({
    heading,
    items: items.filter(({ kind }) => kinds.includes(kind)),
  })).filter((group) => group.items.length > 0);

/** An item in few words, under the heading of its group: "LF camber", "left front floor". */
export const shortLabel = (item: Item, labels: CornerLabelStyle): string => {
  const { words, of } = ITEM_KINDS[item.kind];
  if (item.kind === 'weight' && item.corner) return cornerLabel(item.corner, labels);
  if (of === 'height point') return item.label.replace(`${words} `, '');
  return item.corner && (of === 'corner' || of === 'front corner')
    ? `${cornerLabel(item.corner, labels)} ${item.label.split(' ').slice(2).join(' ')}`
    : item.label;
};
