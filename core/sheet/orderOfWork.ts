import type { Corner } from '../corners.ts';
import type { Item } from './items.ts';
import { axleOf, sideOf } from './items.ts';
import type { Axle, ItemKind } from './itemKinds.ts';

/**
 * The steps of setting a car up, in the order in which one disturbs the next, and what each piece of
 * work on the car leaves unknown until it is measured again. Common practice; that seats, pads and bars
 * leave total, front % and left % alone is equilibrium.
 */
export const WORK_STEPS = [
  'ride heights',
  'camber and caster',
  'rough toe',
  'cross weight, bars off',
  'bars on at zero preload',
  'final toe at ride height',
  'settle',
  'weigh, measure heights again',
] as const;

/** What is changed at a car between two measurements. */
export const WORKS = [
  'height adjuster',
  'camber shim',
  'caster',
  'toe link',
  'steering rack',
  'bar preload',
  'damper',
  'spring',
  'wheel',
  'tyre pressure',
  'ballast',
  'fuel',
  'driver',
  'patch laid again',
  'other',
] as const;
export type WorkKind = (typeof WORKS)[number];

/** How far a disturbance reaches from where the work was done. */
type Reach = 'car' | 'corner' | 'axle' | 'side' | 'part';
type Disturbance = Readonly<Partial<Record<Reach, readonly ItemKind[]>>>;

const HEIGHTS: readonly ItemKind[] = ['height', 'rake'];
const LOADS: readonly ItemKind[] = ['weight', 'crossShare', ...HEIGHTS];
const WEIGHING: readonly ItemKind[] = ['total', 'frontShare', 'leftShare', ...LOADS];
/** What follows the body when it moves on its springs. */
const WITH_BODY: readonly ItemKind[] = [
  'camber',
  'toe',
  'totalToe',
  'thrust',
  'caster',
  'droopGap',
  'bumpGap',
  'damperLength',
];
const ONE_WHEEL: readonly ItemKind[] = ['camber', 'toe', 'caster', 'steeringAxis', 'bumpSteer'];
const UPRIGHT: Disturbance = {
  car: LOADS,
  corner: ONE_WHEEL,
  axle: ['totalToe', 'thrust'],
  side: ['wheelbase'],
};

const DISTURBS: Readonly<Record<WorkKind, Disturbance>> = {
  'height adjuster': { car: [...LOADS, ...WITH_BODY], corner: ['perch'] },
  'camber shim': UPRIGHT,
  caster: UPRIGHT,
  'toe link': { corner: ['toe', 'bumpSteer'], axle: ['totalToe', 'thrust'] },
  'steering rack': { car: ['rackCentre'], axle: ['toe'] },
  'bar preload': { car: [...LOADS, ...WITH_BODY], axle: ['dropLink'] },
  damper: { car: LOADS, corner: ['damperLength', 'droopGap', 'bumpGap'] },
  spring: { car: [...LOADS, ...WITH_BODY], corner: ['perch'] },
  wheel: { car: WEIGHING, corner: [...ONE_WHEEL, 'pressure'], axle: ['totalToe', 'thrust'] },
  'tyre pressure': { car: [...LOADS, 'camber', 'caster'], corner: ['pressure'] },
  ballast: { car: [...WEIGHING, ...WITH_BODY], part: ['ballast'] },
  fuel: { car: [...WEIGHING, ...WITH_BODY, 'fuel'] },
  driver: { car: [...WEIGHING, ...WITH_BODY, 'driver'] },
  'patch laid again': { car: ['frontShare', 'leftShare', 'camber', 'caster', ...LOADS] },
  // Whatever it was, it may have moved everything that is not counted or poured in.
  other: {
    car: [
      ...WEIGHING,
      ...WITH_BODY,
      'steeringAxis',
      'bumpSteer',
      'wheelbase',
      'rackCentre',
      'extra',
    ],
  },
};

/** Where a piece of work was done. */
export interface WorkPlace {
  readonly what: WorkKind;
  /** Null where the work is not at one corner. */
  readonly corner: Corner | null;
  /** The axle of bar or rack; null takes that of the corner, or both. */
  readonly axle: Axle | null;
  /** Ballast place; null is all of them. */
  readonly part: string | null;
}

/** Whether a piece of work leaves an item unknown. Where the work does not say its place, all are. */
export const disturbs = (work: WorkPlace, item: Item): boolean => {
  const reaches = DISTURBS[work.what];
  const axle = work.axle ?? (work.corner && axleOf(work.corner));
  const side = work.corner && sideOf(work.corner);
  const within: Readonly<Record<Reach, boolean>> = {
    car: true,
    corner: work.corner === null || item.corner === work.corner,
    // The thrust angle is the rear axle's.
    axle: axle === null || (item.kind === 'thrust' ? 'rear' : item.axle) === axle,
    side: side === null || item.side === side,
    part: work.part === null || item.part === work.part,
  };
  return (Object.entries(reaches) as [Reach, readonly ItemKind[]][]).some(
    ([reach, kinds]) => within[reach] && kinds.includes(item.kind),
  );
};
