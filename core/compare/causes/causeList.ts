import { CORNERS, perCorner, type Corner } from '../../corners.ts';
import type { ByItem } from '../knownChange.ts';
import { AT_REST, bodyResponse, fourOf, type Action, type FourOf } from './bodyResponse.ts';
import { candidates, type CauseItem } from './candidates.ts';
import { MOST, type CauseWhat } from './cause.ts';
import type { CauseCar } from './causeCar.ts';
import { bodySignature } from './signature.ts';

/** A cause and what one unit of it does. */
export interface Cause {
  readonly what: CauseWhat;
  /** Change of each item per unit of its size. */
  readonly signature: readonly number[];
  /** How the signature changes with the relative error of the car's rates. */
  readonly byRates: readonly number[];
  readonly most: number;
  /** Size that it must have if it is known, as of two wheels whose radii are; null where free. */
  readonly expected: { readonly value: number; readonly u: number } | null;
}

const at = (corner: Corner, size = 1): FourOf => fourOf((k) => (CORNERS[k] === corner ? size : 0));

const less = (a: FourOf, b: FourOf): FourOf => fourOf((k) => a[k] - b[k]);

/** Wheel loads of a rigid body that carry one kilogram at (x, y), newton. */
const carriedAt = ({ standing }: CauseCar, x: number, y: number): FourOf => {
  const { wheelbase, trackFront, trackRear } = standing.car;
  const front = standing.gravity * (1 + x / wheelbase);
  const rear = standing.gravity - front;
  return [
    front * (0.5 + y / trackFront),
    front * (0.5 - y / trackFront),
    rear * (0.5 + y / trackRear),
    rear * (0.5 - y / trackRear),
  ];
};

/** What one unit of a cause does to the body; null for one that moves it not at all. */
const actionOf = (what: CauseWhat, cause: CauseCar): Action | null => {
  const { car, gravity, frontShare } = cause.standing;
  switch (what.kind) {
    case 'strut':
      return { ...AT_REST, seats: at(what.corner) };
    case 'pad height':
      return { ...AT_REST, pads: at(what.corner) };
    case 'wheel':
      return { ...AT_REST, wheels: at(what.corner) };
    case 'wheels exchanged':
      return { ...AT_REST, wheels: less(at(what.one), at(what.other)) };
    case 'bar': {
      // A preload pushes one wheel down and pulls the other up: two seats opposed, each by force over rate.
      const [left, right]: readonly [Corner, Corner] =
        what.axle === 'front' ? ['LF', 'RF'] : ['LR', 'RR'];
      const seat = (corner: Corner): FourOf => at(corner, gravity / car.wheelRates[corner]);
      return { ...AT_REST, seats: less(seat(left), seat(right)) };
    }
    case 'twist': {
      // Turned about the axis that leaves the roll of the whole as it is.
      const angle = 1 / car.trackFront;
      const front = (angle * (1 - frontShare) * car.trackFront) / 2;
      const rear = (angle * frontShare * car.trackRear) / 2;
      return { ...AT_REST, bent: [front, -front, -rear, rear] };
    }
    case 'mass':
      return { ...AT_REST, weight: carriedAt(cause, what.place.x, what.place.y) };
    case 'ballast moved':
      return {
        ...AT_REST,
        weight: less(
          carriedAt(cause, what.to.x, what.to.y),
          carriedAt(cause, what.from.x, what.from.y),
        ),
      };
    case 'mass along':
      return { ...AT_REST, weight: less(carriedAt(cause, 0, 0), carriedAt(cause, -1, 0)) };
    case 'mass across': {
      const middle = -car.wheelbase * (1 - frontShare);
      return {
        ...AT_REST,
        weight: less(carriedAt(cause, middle, 1), carriedAt(cause, middle, 0)),
      };
    }
    case 'pad':
    case 'toe link':
    case 'camber shim':
    case 'height point':
      return null;
  }
};

const reads = (what: CauseWhat, { id, measures }: CauseItem): boolean => {
  if (what.kind === 'height point') return what.item === id;
  if (!('corner' in measures) || !('corner' in what) || measures.corner !== what.corner)
    return false;
  return (
    (what.kind === 'pad' && measures.what === 'corner weight') ||
    (what.kind === 'toe link' && measures.what === 'toe') ||
    (what.kind === 'camber shim' && measures.what === 'camber')
  );
};

/** What one unit of a cause does to each item. */
const effectsIn = (
  items: readonly CauseItem[],
  car: CauseCar,
): ((what: CauseWhat) => readonly number[]) => {
  const measures = items.map((item) => item.measures);
  const respond = bodyResponse(car.standing, car.bars);
  return (what) => {
    const action = actionOf(what, car);
    return action
      ? bodySignature(measures, car, action, respond(action))
      : items.map((item) => (reads(what, item) ? 1 : 0));
  };
};

/** Step of the rates by which their error's effect is found. */
const RATE_STEP = 0.01;

const stiffer = (car: CauseCar): CauseCar => {
  const times = (rate: number): number => rate * (1 + RATE_STEP);
  const own = car.standing.car;
  const changed = {
    ...own,
    wheelRates: perCorner((corner) => times(own.wheelRates[corner])),
    barFront: times(own.barFront),
    barRear: times(own.barRear),
    chassisStiffness: own.chassisStiffness === null ? null : times(own.chassisStiffness),
  };
  return { ...car, standing: { ...car.standing, car: changed } };
};

/** How much larger the radius of `one` becomes when two known set-up wheels are exchanged. */
const expectedSize = ({ wheelRadii }: CauseCar, what: CauseWhat): Cause['expected'] => {
  if (what.kind !== 'wheels exchanged' || !wheelRadii) return null;
  const [one, other] = [wheelRadii[what.one], wheelRadii[what.other]];
  return { value: other.value - one.value, u: Math.hypot(one.u, other.u) };
};

/** All causes with their signatures over the items; one unit of size each. */
export const causeList = (items: readonly CauseItem[], car: CauseCar): readonly Cause[] => {
  const effect = effectsIn(items, car);
  const stifferEffect = effectsIn(items, stiffer(car));
  return candidates(items, car).map((what): Cause => {
    const signature = effect(what);
    const other = stifferEffect(what);
    return {
      what,
      signature,
      byRates: signature.map((entry, index) => ((other[index] as number) - entry) / RATE_STEP),
      most: MOST[what.kind],
      expected: expectedSize(car, what),
    };
  });
};

/**
 * What one unit of a known change does to the items, to be taken out before judging (see `sizedChange`):
 * a call as `strut` (metre of seat at the wheel: turns · pitch / motion ratio, up), fuel, ballast and
 * driver as `mass` at their place (kg).
 */
export const effectPerUnit = (
  items: readonly CauseItem[],
  car: CauseCar,
  what: CauseWhat,
): ByItem => {
  const effect = effectsIn(items, car)(what);
  return Object.fromEntries(items.map(({ id }, index) => [id, effect[index] as number]));
};
