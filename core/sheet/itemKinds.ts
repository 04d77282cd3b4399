import type { QuantityKind } from '../format/unitTable.ts';

/** What a kind of item is, the same for every car. SI: kg, m, rad, Pa; shares as fractions. */
export interface ItemKindRow {
  /** Words without the place: "camber" of "left front camber". */
  readonly words: string;
  readonly quantity: QuantityKind;
  /**
   * pads: from a capture. hand: read at the car and typed. other items: computed of them, unless it was
   * read itself. stated: put in by people, such as fuel.
   */
  readonly from: 'pads' | 'hand' | 'other items' | 'stated';
  /** What it belongs to. */
  readonly of:
    'car' | 'corner' | 'front corner' | 'axle' | 'side' | 'height point' | 'ballast place';
  /** Outside this the number cannot be what it says: a slip or a wrong unit. Common practice, no source. */
  readonly possible: readonly [number, number];
  /** Targets that differ by less agree: the last digit people write. */
  readonly rounding: number;
}

const DEGREE = Math.PI / 180;
const MINUTE = DEGREE / 60;

const row = (
  words: string,
  quantity: QuantityKind,
  about: Omit<ItemKindRow, 'words' | 'quantity'>,
): ItemKindRow => ({ words, quantity, ...about });

const share = (words: string): ItemKindRow =>
  row(words, 'share', { from: 'pads', of: 'car', possible: [0.1, 0.9], rounding: 5e-4 });

const angle = (
  words: string,
  about: Pick<ItemKindRow, 'from' | 'of'> & { readonly degrees: readonly [number, number] },
): ItemKindRow =>
  row(words, 'angle', {
    from: about.from,
    of: about.of,
    possible: [about.degrees[0] * DEGREE, about.degrees[1] * DEGREE],
    rounding: 0.5 * MINUTE,
  });

const length = (
  words: string,
  of: ItemKindRow['of'],
  possible: readonly [number, number],
): ItemKindRow => row(words, 'length', { from: 'hand', of, possible, rounding: 5e-4 });

const mass = (
  words: string,
  about: Pick<ItemKindRow, 'from' | 'of'> & { readonly most: number },
): ItemKindRow =>
  row(words, 'mass', {
    from: about.from,
    of: about.of,
    possible: [0, about.most],
    rounding: 0.5,
  });

export const ITEM_KINDS = {
  weight: mass('corner weight', { from: 'pads', of: 'corner', most: 2000 }),
  total: mass('total', { from: 'pads', of: 'car', most: 8000 }),
  frontShare: share('front %'),
  leftShare: share('left %'),
  crossShare: share('cross %'),
  height: length('ride height', 'height point', [-0.02, 1]),
  /** Height at the rear axle less that at the front axle: nose-down positive. */
  rake: row('rake', 'length', {
    from: 'other items',
    of: 'car',
    possible: [-0.5, 0.5],
    rounding: 5e-4,
  }),
  camber: angle('camber', { from: 'hand', of: 'corner', degrees: [-15, 15] }),
  caster: angle('caster', { from: 'hand', of: 'front corner', degrees: [-10, 25] }),
  steeringAxis: angle('steering-axis inclination', {
    from: 'hand',
    of: 'front corner',
    degrees: [-5, 30],
  }),
  toe: angle('toe', { from: 'hand', of: 'corner', degrees: [-10, 10] }),
  totalToe: angle('total toe', { from: 'other items', of: 'axle', degrees: [-20, 20] }),
  /** Rear axle: (left − right toe)/2, positive to the right. */
  thrust: angle('thrust angle', { from: 'other items', of: 'car', degrees: [-10, 10] }),
  /** Toe with the body this far from ride height; the fourth part of the id is that height in mm. */
  bumpSteer: angle('toe', { from: 'hand', of: 'corner', degrees: [-10, 10] }),
  /** Turns of thread that show, clicks or shims, as the corner's adjuster is counted. */
  perch: row('perch threads', 'turns', {
    from: 'hand',
    of: 'corner',
    possible: [-100, 400],
    rounding: 0.05,
  }),
  droopGap: length('droop gap', 'corner', [0, 0.5]),
  bumpGap: length('bump gap', 'corner', [0, 0.5]),
  damperLength: length('damper length', 'corner', [0.02, 1.5]),
  dropLink: length('drop-link length', 'corner', [0.01, 1]),
  wheelbase: length('wheelbase', 'side', [0.5, 10]),
  /** How far the rack stands off its centre with the steering straight, positive to the left. */
  rackCentre: length('rack off centre', 'car', [-0.2, 0.2]),
  pressure: row('tyre pressure', 'pressure', {
    from: 'hand',
    of: 'corner',
    possible: [0, 1e6],
    rounding: 500,
  }),
  ballast: mass('ballast', { from: 'stated', of: 'ballast place', most: 500 }),
  fuel: mass('fuel', { from: 'stated', of: 'car', most: 500 }),
  driver: mass('driver', { from: 'stated', of: 'car', most: 300 }),
  extra: row('', 'number', {
    from: 'hand',
    of: 'car',
    possible: [-Infinity, Infinity],
    rounding: 0,
  }),
} as const satisfies Readonly<Record<string, ItemKindRow>>;

export type ItemKind = keyof typeof ITEM_KINDS;

/** The two axles, and the two sides, as ids have them. */
export const AXLES = ['front', 'rear'] as const;
export type Axle = (typeof AXLES)[number];
export const SIDES = ['left', 'right'] as const;
export type Side = (typeof SIDES)[number];

/** How far the body is from ride height when toe is read for bump steer, mm: up (droop) positive. */
export const BUMP_HEIGHTS = [-20, -10, 10, 20] as const;
