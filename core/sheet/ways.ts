import type { QuantityKind } from '../format/unitTable.ts';
import type { Item } from './items.ts';
import type { ItemKind } from './itemKinds.ts';

/** How an item can be read: typed as it is, or computed of several readings. */

const WAYS = [
  'as read',
  'gauge turned round',
  'gauge and its zero',
  'string',
  'string, wheel rolled half a turn',
  'sweep',
  'level along the wheel',
  'tie rods',
  'locks, rack ahead of the axle',
  'locks, rack behind the axle',
] as const;
export type Way = (typeof WAYS)[number];

/** One of the readings that an item is computed of. */
export interface WayField {
  /** Also its name in the record. */
  readonly what: string;
  readonly quantity: QuantityKind;
  readonly isOptional: boolean;
}

const field = (what: string, quantity: QuantityKind, isOptional = false): WayField => ({
  what,
  quantity,
  isOptional,
});

const STRING = [field('front of the rim', 'length'), field('rear of the rim', 'length')];
const SWEEP_STEER = [field('turned out by', 'angle'), field('turned in by', 'angle')] as const;
const LOCKS = [
  field('left wheel at left lock', 'angle'),
  field('right wheel at right lock', 'angle'),
  field('steer for 10 mm of rack', 'angle'),
];

export const WAY_FIELDS: Readonly<Record<Way, readonly WayField[]>> = {
  'as read': [],
  'gauge turned round': [field('reading', 'angle'), field('turned round', 'angle')],
  'gauge and its zero': [field('reading', 'angle'), field('zero of the gauge', 'angle')],
  string: STRING,
  'string, wheel rolled half a turn': [
    ...STRING,
    field('front, rolled half a turn', 'length'),
    field('rear, rolled half a turn', 'length'),
  ],
  sweep: [
    SWEEP_STEER[0],
    field('camber turned out', 'angle'),
    SWEEP_STEER[1],
    field('camber turned in', 'angle'),
    field('camber straight ahead', 'angle', true),
    field('toe straight ahead', 'angle', true),
  ],
  'level along the wheel': [
    SWEEP_STEER[0],
    field('level turned out', 'angle'),
    SWEEP_STEER[1],
    field('level turned in', 'angle'),
  ],
  'tie rods': [field('left rod', 'length'), field('right rod', 'length')],
  'locks, rack ahead of the axle': LOCKS,
  'locks, rack behind the axle': LOCKS,
};

const OTHERS: Readonly<Partial<Record<ItemKind, readonly Way[]>>> = {
  camber: ['gauge turned round', 'gauge and its zero'],
  toe: ['string', 'string, wheel rolled half a turn'],
  bumpSteer: ['string', 'string, wheel rolled half a turn'],
  caster: ['sweep'],
  steeringAxis: ['level along the wheel'],
  rackCentre: ['tie rods', 'locks, rack ahead of the axle', 'locks, rack behind the axle'],
};

/** The ways in which an item can be read, the plain one first. */
export const waysOf = ({ kind }: Item): readonly Way[] => ['as read', ...(OTHERS[kind] ?? [])];

/** The way in which a reading was taken, told by its parts. */
export const wayTaken = (of: readonly { readonly what: string }[], ways: readonly Way[]): Way => {
  const has = (what: string): boolean => of.some((part) => part.what === what);
  // Of two ways that share their first parts the longer one is meant.
  const fitting = ways.filter((way) =>
    WAY_FIELDS[way].every(({ what, isOptional }) => isOptional || has(what)),
  );
  return fitting.reduce<Way>(
    (best, way) => (WAY_FIELDS[way].length > WAY_FIELDS[best].length ? way : best),
    'as read',
  );
};

/** What the readings of a way are taken with: a scale for lengths, a gauge for angles. */
export const gaugeQuantity = (item: Item, way: Way): QuantityKind =>
  WAY_FIELDS[way].find(({ what }) => !SWEEP_STEER.some((steer) => steer.what === what))?.quantity ??
  item.quantity;
