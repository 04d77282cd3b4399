import { CORNERS, type Corner } from '../corners.ts';
import type { Item } from './items.ts';
import type { ItemKind } from './itemKinds.ts';

/** Once round the car, beginning at the left front. */
const ROUND: readonly Corner[] = ['LF', 'RF', 'RR', 'LR'];

/**
 * What is read at a corner before going on to the next, then what takes a round of its own. Common
 * practice, no source.
 */
const ROUNDS: readonly (readonly ItemKind[])[] = [
  [
    'height',
    'camber',
    'toe',
    'pressure',
    'perch',
    'droopGap',
    'bumpGap',
    'damperLength',
    'dropLink',
    'extra',
  ],
  ['wheelbase', 'rake', 'totalToe', 'thrust'],
  ['rackCentre', 'caster', 'steeringAxis'],
  ['bumpSteer'],
  ['driver', 'fuel', 'ballast'],
];

const rank = ({ kind, corner }: Item): readonly [number, number, number] => {
  const found = ROUNDS.findIndex((kinds) => kinds.includes(kind));
  const round = found < 0 ? ROUNDS.length : found;
  return [
    round,
    corner === null ? CORNERS.length : ROUND.indexOf(corner),
    ROUNDS[round]?.indexOf(kind) ?? 0,
  ];
};

const byRank = (a: Item, b: Item): number => {
  const [one, other] = [rank(a), rank(b)];
  return one[0] - other[0] || one[1] - other[1] || one[2] - other[2];
};

/** Items that people read or state themselves; the rest come from a capture or from other items. */
export const isTyped = ({ from }: Item): boolean => from === 'hand' || from === 'stated';

/**
 * The walk over the items asked for: first those that the crew has an order for, in that order, then
 * each of the others behind its neighbour of the usual walk round the car. Only what is typed is walked.
 */
export const walkOf = (items: readonly Item[], remembered: readonly string[]): readonly Item[] => {
  const usual = items.filter(isTyped).toSorted(byRank);
  const byId = new Map(usual.map((item) => [item.id, item]));
  const walk = [...new Set(remembered)].flatMap((id) => byId.get(id) ?? []);
  for (const [index, item] of usual.entries()) {
    if (walk.includes(item)) continue;
    const before = usual[index - 1];
    walk.splice(before === undefined ? 0 : walk.indexOf(before) + 1, 0, item);
  }
  return walk;
};
