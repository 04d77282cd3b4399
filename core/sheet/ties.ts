import type { CrossDiagonal } from '../contract/records.ts';
import { CORNERS } from '../corners.ts';
import type { Car } from './car.ts';
import { rakeWeights } from './rakeWeights.ts';

/** How one item follows from others: a weighted sum of them, over another where it is a share. */
export interface Tie {
  readonly item: string;
  readonly of: readonly { readonly item: string; readonly weight: number }[];
  /** Added to the sum. */
  readonly plus: number;
  /** Divided by the sum of these; empty: not divided. */
  readonly over: readonly string[];
  /** In words: "the four corner weights". */
  readonly words: string;
}

const WEIGHTS = CORNERS.map((corner) => `weight.${corner}`);

const weights = (item: string, corners: readonly string[], share: boolean): Tie => ({
  item,
  of: corners.map((corner) => ({ item: `weight.${corner}`, weight: 1 })),
  plus: 0,
  over: share ? WEIGHTS : [],
  words: 'the four corner weights',
});

const DIAGONALS: Readonly<Record<CrossDiagonal, readonly string[]>> = {
  'RF+LR': ['RF', 'LR'],
  'LF+RR': ['LF', 'RR'],
};

/**
 * The items that follow from others: total and shares from the corner weights, total toe and thrust
 * angle from the toes, rake from the ride heights where the car's points allow it.
 */
export const tiesOf = (car: Car, cross: CrossDiagonal): readonly Tie[] => {
  const points = car.details?.heightPoints ?? [];
  const rake = rakeWeights(points, car.wheelbase);
  return [
    weights('total', CORNERS, false),
    weights('frontShare', ['LF', 'RF'], true),
    weights('leftShare', ['LF', 'LR'], true),
    weights('crossShare', DIAGONALS[cross], true),
    ...(['front', 'rear'] as const).map((axle): Tie => ({
      item: `totalToe.${axle}`,
      of: (axle === 'front' ? ['LF', 'RF'] : ['LR', 'RR']).map((corner) => ({
        item: `toe.${corner}`,
        weight: 1,
      })),
      plus: 0,
      over: [],
      words: `the toes of the ${axle} wheels`,
    })),
    {
      item: 'thrust',
      of: [
        { item: 'toe.LR', weight: 0.5 },
        { item: 'toe.RR', weight: -0.5 },
      ],
      plus: 0,
      over: [],
      words: 'the toes of the rear wheels',
    },
    ...(rake === null
      ? []
      : [
          {
            item: 'rake',
            of: points.map(({ id }, i) => ({ item: `height.${id}`, weight: rake[i] as number })),
            plus: -points.reduce((sum, { above }, i) => sum + above * (rake[i] as number), 0),
            over: [],
            words: 'the ride heights',
          },
        ]),
  ];
};

/** What a tie gives for known values, with its derivative by each; null where one is not known. */
export const throughTie = (
  tie: Tie,
  known: (item: string) => number | null,
): { readonly value: number; readonly slopes: ReadonlyMap<string, number> } | null => {
  const needed = new Set([...tie.of.map(({ item }) => item), ...tie.over]);
  const values = new Map<string, number>();
  for (const item of needed) {
    const value = known(item);
    if (value === null) return null;
    values.set(item, value);
  }
  const at = (item: string): number => values.get(item) as number;
  const top = tie.of.reduce((sum, { item, weight }) => sum + weight * at(item), tie.plus);
  const bottom = tie.over.reduce((sum, item) => sum + at(item), 0);
  if (tie.over.length > 0 && !(bottom > 0)) return null;
  const divided = tie.over.length > 0;
  const value = divided ? top / bottom : top;
  const slopes = new Map(
    [...needed].map((item) => {
      const own = tie.of.find((each) => each.item === item)?.weight ?? 0;
      return [item, divided ? (own - value) / bottom : own];
    }),
  );
  return { value, slopes };
};
