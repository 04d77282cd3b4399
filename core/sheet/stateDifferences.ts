import type { StandingCar } from '../adjust/statics.ts';
import type { ByItem, StateDifference } from '../compare/knownChange.ts';
import { CORNERS, type Corner } from '../corners.ts';
import { changeText } from '../format/valueShown.ts';
import { bodyEffect, type BodyCause } from './bodyEffect.ts';
import type { Car } from './car.ts';
import type { CarRecord } from './carRecord.ts';
import { CAR_STATE_ITEMS, type CarState, type CarStateItem } from './carState.ts';
import type { Item } from './items.ts';
import type { ItemKind } from './itemKinds.ts';
import { itemValue, type ValueSources } from './itemValue.ts';

/** In what two states of a car differ, with what it does to the items where that is known. */

const WEIGHING: readonly ItemKind[] = ['weight', 'total', 'frontShare', 'leftShare', 'crossShare'];
const LOADS: readonly ItemKind[] = ['weight', 'crossShare'];
const HEIGHTS: readonly ItemKind[] = ['height', 'rake', 'droopGap', 'bumpGap', 'damperLength'];
const WHEELS: readonly ItemKind[] = ['camber', 'caster', 'toe', 'totalToe', 'thrust'];

/** What each difference of state touches. Common practice, no source. */
const TOUCHES: Readonly<Record<CarStateItem, readonly ItemKind[]>> = {
  seatMass: [...WEIGHING, ...HEIGHTS, ...WHEELS],
  fuelMass: [...WEIGHING, ...HEIGHTS, ...WHEELS],
  wheels: [...WEIGHING, ...HEIGHTS, ...WHEELS, 'steeringAxis', 'bumpSteer', 'wheelbase'],
  fluidsFull: [...WEIGHING, ...HEIGHTS],
  barsFree: [...LOADS, ...HEIGHTS],
  dampersAsAgreed: [...LOADS, ...HEIGHTS],
  packersClear: [...LOADS, ...HEIGHTS],
  droopStopsClear: [...LOADS, ...HEIGHTS],
  steeringPinned: ['toe', 'camber', 'rackCentre'],
  brakesFree: [...LOADS, ...HEIGHTS, 'toe', 'totalToe', 'thrust'],
  gearboxNeutral: [...LOADS, ...HEIGHTS],
  bodyworkOn: [...WEIGHING, ...HEIGHTS],
  nobodyTouching: [...WEIGHING, ...HEIGHTS],
};

/** What a comparison of states needs. Both sources are of the same car and items. */
export interface StatesInput {
  readonly car: Car;
  readonly before: ValueSources;
  readonly after: ValueSources;
  /** The car as it stood before, from its loads; null where it was not weighed: nothing is corrected. */
  readonly standing: StandingCar | null;
}

const idsOf = (items: Iterable<Item>, kinds: readonly ItemKind[]): readonly string[] =>
  [...items].filter(({ kind }) => kinds.includes(kind)).map(({ id }) => id);

/** An answer that nobody gave. */
export const isUnknown = (value: CarState[CarStateItem]): boolean =>
  value === null || value === 'not checked';

/** A mass in the record: read as an item, else as the state has it; null where nobody said. */
export const massIn = (sources: ValueSources, id: string): number | null => {
  const value = itemValue(id, sources);
  if (value.is === 'measured') return value.value.value;
  if (id === 'driver') return sources.record.state.seatMass;
  if (id === 'fuel') return sources.record.state.fuelMass;
  return null;
};

interface MassPlaced {
  readonly id: string;
  readonly label: string;
  readonly place: { readonly x: number; readonly y: number } | null;
  readonly lacking: string;
}

/** Masses that come and go at known places of the car. */
export const massesOf = ({ details }: Car): readonly MassPlaced[] => [
  {
    id: 'driver',
    label: 'mass in the seat',
    place: details?.driverPlace ?? null,
    lacking: 'Enter the driver’s place with the car and it is corrected.',
  },
  {
    id: 'fuel',
    label: 'fuel',
    place: details?.fuelTank ?? null,
    lacking: 'Enter the place of the tank with the car and it is corrected.',
  },
  ...(details?.ballastPlaces ?? []).map((place) => ({
    id: `ballast.${place.id}`,
    label: `ballast ${place.name}`,
    place,
    lacking: '',
  })),
];

/** Known mass changes by place: fuel burnt, ballast, driver. Masses that are stated are taken as exact. */
export const massDifferences = (input: StatesInput): readonly StateDifference[] => {
  const { car, before, after, standing } = input;
  const all = [...before.items.values()];
  return massesOf(car).flatMap(({ id, label, place, lacking }): StateDifference[] => {
    const [was, is] = [massIn(before, id), massIn(after, id)];
    if (was === null || is === null || was === is) return [];
    const name = `${changeText({ kind: 'mass', unit: null }, is - was)} of ${label}`;
    const items = idsOf(all, TOUCHES.fuelMass);
    if (!place) return [{ what: `${name}. ${lacking}`, correction: null, items }];
    if (!standing)
      return [{ what: `${name}. Weigh the car and it is corrected.`, correction: null, items }];
    const cause: BodyCause = { is: 'mass', mass: is - was, ...place };
    const effect = bodyEffect({ standing, items: all, barsOn: barsOn(before.record) }, cause);
    return [{ what: name, correction: { name, effect, doubts: [] }, items }];
  });
};

const barsOn = ({ state }: CarRecord): boolean => state.barsFree === 'no';

/** Ride heights follow the wheel radii where the car knows both; what the wheels carry does not. */
export const wheelDifference = (input: StatesInput): readonly StateDifference[] => {
  const { car, before, after, standing } = input;
  const [was, is] = [before.record.state.wheels, after.record.state.wheels];
  if (was === is || isUnknown(was) || isUnknown(is)) return [];
  const all = [...before.items.values()];
  const what = `On ${was} before, on ${is} after`;
  const { setUpWheels, tyres } = car.details ?? {};
  const heights = idsOf(all, ['height']);
  const rest = idsOf(all, TOUCHES.wheels).filter((id) => !heights.includes(id));
  // Rake is made of the heights and follows them.
  const others = rest.filter((id) => id !== 'rake');
  if (!standing || !setUpWheels || !tyres)
    return [
      {
        what: `${what}. Enter both radii of all wheels with the car.`,
        correction: null,
        items: [...rest, ...heights],
      },
    ];
  const sign = is === 'tyres' ? 1 : -1;
  const effectOf = (radii: Readonly<Partial<Record<Corner, number>>>): ByItem => {
    const effect = bodyEffect(
      { standing, items: all, barsOn: barsOn(before.record) },
      { is: 'wheel radii', radii },
    );
    return Object.fromEntries(heights.map((id) => [id, effect[id] ?? 0]));
  };
  const steps = CORNERS.map((corner) => {
    const [tyre, wheel] = [tyres[corner].loadedRadius, setUpWheels[corner].radius];
    return { corner, by: sign * (tyre.value - wheel.value), u: Math.hypot(tyre.u, wheel.u) };
  });
  return [
    {
      what: `${what}: ride heights by the wheels’ radii`,
      correction: {
        name: `${what}: ride heights by the wheels’ radii`,
        effect: effectOf(Object.fromEntries(steps.map(({ corner, by }) => [corner, by]))),
        doubts: steps.filter(({ u }) => u > 0).map(({ corner, u }) => effectOf({ [corner]: u })),
      },
      items: idsOf(all, ['height', 'rake']),
    },
    { what, correction: null, items: others },
  ];
};

const STATED_ELSEWHERE: readonly CarStateItem[] = ['seatMass', 'fuelMass', 'wheels'];

/** Plain answers that differ: nothing says by how much, so what they touch is not compared. */
export const plainDifferences = ({ before, after }: StatesInput): readonly StateDifference[] =>
  CAR_STATE_ITEMS.filter(({ item }) => !STATED_ELSEWHERE.includes(item)).flatMap(
    ({ item, label }) => {
      const [was, is] = [before.record.state[item], after.record.state[item]];
      if (was === is || isUnknown(was) || isUnknown(is)) return [];
      const items = idsOf(before.items.values(), TOUCHES[item]);
      return [{ what: `${label}: ${was} before, ${is} after`, correction: null, items }];
    },
  );
