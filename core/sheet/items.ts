import { z } from 'zod';
import { cornerSchema } from '../contract/records.ts';
import { CORNER_NAMES, CORNERS, type Corner } from '../corners.ts';
import { QUANTITY_KINDS, type QuantityKind } from '../format/unitTable.ts';
import type { Car } from './car.ts';
import type { CarAdjuster } from './carDetails.ts';
import { partIdSchema } from './itemId.ts';
import {
  AXLES,
  BUMP_HEIGHTS,
  ITEM_KINDS,
  SIDES,
  type Axle,
  type ItemKind,
  type ItemKindRow,
  type Side,
} from './itemKinds.ts';

/** An item that the user adds to a sheet. */
export const extraItemSchema = z.strictObject({
  id: partIdSchema,
  label: z.string().trim().min(1).max(60),
  quantity: z.enum(QUANTITY_KINDS),
  corner: cornerSchema.nullable(),
});
export type ExtraItem = z.infer<typeof extraItemSchema>;

/** One thing that a sheet can ask for and a record can hold. */
export interface Item {
  /** Kind and place: `camber.LF`, `height.nose`, `total`. */
  readonly id: string;
  readonly kind: ItemKind;
  /** In words: "right rear camber". */
  readonly label: string;
  readonly quantity: QuantityKind;
  readonly from: ItemKindRow['from'];
  /** Where people stand for it: its own corner, or that nearest to its point; null for the car. */
  readonly corner: Corner | null;
  readonly axle: Axle | null;
  readonly side: Side | null;
  /** Reference point or ballast place. */
  readonly part: string | null;
  readonly possible: readonly [number, number];
  readonly rounding: number;
}

/** The axle of a corner. */
export const axleOf = (corner: Corner): Axle =>
  corner === 'LF' || corner === 'RF' ? 'front' : 'rear';

/** The side of a corner. */
export const sideOf = (corner: Corner): Side =>
  corner === 'LF' || corner === 'LR' ? 'left' : 'right';

/** The corner nearest to a point of the car. */
export const nearestCorner = (
  car: Car,
  point: { readonly x: number; readonly y: number },
): Corner =>
  point.x > -car.wheelbase / 2 ? (point.y > 0 ? 'LF' : 'RF') : point.y > 0 ? 'LR' : 'RR';

type Place = Partial<Pick<Item, 'corner' | 'axle' | 'side' | 'part'>> & {
  readonly id: string;
  readonly label: string;
};

const itemAt = (kind: ItemKind, row: ItemKindRow, place: Place): Item => ({
  kind,
  quantity: row.quantity,
  from: row.from,
  possible: row.possible,
  rounding: row.rounding,
  corner: null,
  axle: null,
  side: null,
  part: null,
  ...place,
});

const cornerPlaces = (kind: ItemKind, words: string, corners: readonly Corner[]): Place[] =>
  corners.flatMap((corner): Place[] => {
    const place = { corner, axle: axleOf(corner), side: sideOf(corner) };
    if (kind !== 'bumpSteer')
      return [{ id: `${kind}.${corner}`, label: `${CORNER_NAMES[corner]} ${words}`, ...place }];
    return BUMP_HEIGHTS.map((mm) => {
      const height = mm > 0 ? `+${mm}` : `${mm}`;
      return {
        id: `${kind}.${corner}.${height}`,
        label: `${CORNER_NAMES[corner]} ${words} at ${height.replace('-', '−')} mm`,
        ...place,
      };
    });
  });

const placesOf = (kind: ItemKind, row: ItemKindRow, car: Car): Place[] => {
  const { words } = row;
  switch (row.of) {
    case 'car':
      return [{ id: kind, label: words }];
    case 'corner':
      return cornerPlaces(kind, words, CORNERS);
    case 'front corner':
      return cornerPlaces(kind, words, ['LF', 'RF']);
    case 'axle':
      return AXLES.map((axle) => ({ id: `${kind}.${axle}`, label: `${axle} ${words}`, axle }));
    case 'side':
      return SIDES.map((side) => ({ id: `${kind}.${side}`, label: `${side} ${words}`, side }));
    case 'height point':
      return (car.details?.heightPoints ?? []).map((point) => ({
        id: `${kind}.${point.id}`,
        label: `${words} ${point.name}`,
        corner: nearestCorner(car, point),
        part: point.id,
      }));
    case 'ballast place':
      return (car.details?.ballastPlaces ?? []).map(({ id, name }) => ({
        id: `${kind}.${id}`,
        label: `${words} ${name}`,
        part: id,
      }));
  }
};

/** What is counted at a corner's adjuster. */
const COUNTED: Readonly<Record<CarAdjuster['countedIn'], readonly [QuantityKind, string]>> = {
  turns: ['turns', 'threads'],
  flats: ['turns', 'threads'],
  clicks: ['clicks', 'clicks'],
  shims: ['number', 'shims'],
};

/** The adjuster of the corner decides what its position is counted in. */
const asAdjusted = (item: Item, car: Car): Item => {
  const adjuster = item.corner && car.details?.adjusters[item.corner];
  if (item.kind !== 'perch' || !item.corner || !adjuster) return item;
  const [quantity, words] = COUNTED[adjuster.countedIn];
  const what = adjuster.kind === 'shims' ? 'spring' : adjuster.kind;
  return { ...item, quantity, label: `${CORNER_NAMES[item.corner]} ${what} ${words}` };
};

/**
 * Everything that a sheet of this car can hold, in one fixed order: the catalogue's, then the free items
 * of the sheet. Ride heights and ballast are there for the points and places that the car has.
 */
export const itemsOf = (car: Car, extras: readonly ExtraItem[]): readonly Item[] => [
  ...(Object.entries(ITEM_KINDS) as [ItemKind, ItemKindRow][])
    .filter(([kind]) => kind !== 'extra')
    .flatMap(([kind, row]) =>
      placesOf(kind, row, car).map((place) => asAdjusted(itemAt(kind, row, place), car)),
    ),
  ...extras.map(({ id, label, quantity, corner }) => ({
    ...itemAt('extra', ITEM_KINDS.extra, { id: `extra.${id}`, label, corner }),
    quantity,
  })),
];

/** The items by id. */
export const itemsById = (items: readonly Item[]): ReadonlyMap<string, Item> =>
  new Map(items.map((item) => [item.id, item]));
