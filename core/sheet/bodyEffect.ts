import type { StandingCar } from '../adjust/statics.ts';
import { AT_REST, bodyResponse, fourOf } from '../compare/causes/bodyResponse.ts';
import type { Measures } from '../compare/causes/causeCar.ts';
import { bodySignature } from '../compare/causes/signature.ts';
import type { ByItem } from '../compare/knownChange.ts';
import { CORNERS, type Corner } from '../corners.ts';
import type { Item } from './items.ts';

/** Something known that moves the body: mass put in at a place (kg, metre), or wheels of other radii. */
export type BodyCause =
  | { readonly is: 'mass'; readonly mass: number; readonly x: number; readonly y: number }
  | { readonly is: 'wheel radii'; readonly radii: Readonly<Partial<Record<Corner, number>>> };

/** What an item is to the body's statics. */
export const measuresOf = ({ kind, corner, part }: Item, { car }: StandingCar): Measures => {
  if (kind === 'weight' && corner) return { what: 'corner weight', corner };
  if ((kind === 'camber' || kind === 'toe' || kind === 'caster') && corner)
    return { what: kind, corner };
  const point = car.details?.heightPoints.find(({ id }) => id === part);
  if (kind === 'height' && point)
    return { what: 'ride height', name: point.name, x: point.x, y: point.y, from: 'plane' };
  return { what: 'other' };
};

/** Wheel loads of a rigid body that carry a weight at (x, y), newton. */
const carried = (
  { car, gravity }: StandingCar,
  { mass, x, y }: { readonly mass: number; readonly x: number; readonly y: number },
): readonly number[] => {
  const front = mass * gravity * (1 + x / car.wheelbase);
  const rear = mass * gravity - front;
  return [
    front * (0.5 + y / car.trackFront),
    front * (0.5 - y / car.trackFront),
    rear * (0.5 + y / car.trackRear),
    rear * (0.5 - y / car.trackRear),
  ];
};

/**
 * What a known cause does to the items of a record: corner weights (kg), ride heights (m), cambers and
 * casters (rad) as the body moves on its springs. Camber gain and bump steer are not known here and
 * left out. Items that follow from others are not named: they follow.
 */
export const bodyEffect = (
  about: {
    readonly standing: StandingCar;
    readonly items: readonly Item[];
    readonly barsOn: boolean;
  },
  cause: BodyCause,
): ByItem => {
  const { standing, items, barsOn } = about;
  const bars = barsOn ? 'on' : 'off';
  const loads = cause.is === 'mass' ? carried(standing, cause) : [0, 0, 0, 0];
  const radii = cause.is === 'wheel radii' ? cause.radii : {};
  const action = {
    ...AT_REST,
    weight: fourOf((k) => loads[k] as number),
    wheels: fourOf((k) => radii[CORNERS[k]] ?? 0),
  };
  const reached = items
    .map((item) => ({ id: item.id, measures: measuresOf(item, standing) }))
    .filter(({ measures }) => measures.what !== 'other');
  const effects = bodySignature(
    reached.map(({ measures }) => measures),
    {
      standing,
      bars,
      places: [],
      wheelRadii: null,
      camberGain: null,
      bumpSteer: null,
      rateUncertainty: 0,
    },
    action,
    bodyResponse(standing, bars)(action),
  );
  return Object.fromEntries(reached.map(({ id }, index) => [id, effects[index] as number]));
};
