import type { Authority } from '../contract/scrutineering.ts';
import { CORNERS, perCorner, type PerCorner } from '../corners.ts';
import type { Car } from '../sheet/car.ts';
import type { CarState } from '../sheet/carState.ts';
import { withChanges, type MassChange } from './ballastOutcome.ts';
import type { BallastProblem, PlateSize } from './ballastProblem.ts';
import { mustRead, type Limit, type Prediction } from './prediction.ts';

/** What people wish of a plan. */
export interface BallastWish {
  /** Dead bands, fractions of one. */
  readonly frontShare: Limit;
  readonly leftShare: Limit;
  /** Ballast that was in the car when it was weighed, kg by place; a place not named had none. */
  readonly onBoard: Readonly<Record<string, number>>;
}

export type BallastQuestion =
  | { readonly ok: true; readonly problem: BallastProblem; readonly notes: readonly string[] }
  /** Why there is nothing to plan yet, and what to do. */
  | { readonly ok: false; readonly why: string };

const totalOf = (loads: PerCorner<number>): number =>
  CORNERS.reduce((sum, corner) => sum + loads[corner], 0);

/** Where the whole car's mass may be put without moving a share. */
const centre = ({ wheelbase, trackFront, trackRear }: Car, loads: PerCorner<number>) => {
  const total = totalOf(loads);
  return {
    x: (-wheelbase * (loads.LR + loads.RR)) / total,
    y: (((loads.LF - loads.RF) * trackFront) / 2 + ((loads.LR - loads.RR) * trackRear) / 2) / total,
  };
};

/** Masses that come on, kg: another driver, other fuel, and what tyres and brakes lose. Less is below zero. */
export interface OtherMasses {
  readonly seat: number;
  readonly fuel: number;
  readonly wear: number;
}

/**
 * Other masses as changes at their places: the driver's, the tank's, and of the wear evenly at the four
 * wheels. Where the car does not say a place, the centre of gravity is taken and a note says so.
 */
export const massChanges = (
  car: Car,
  loads: PerCorner<number>,
  { seat, fuel, wear }: OtherMasses,
): { readonly changes: readonly MassChange[]; readonly notes: readonly string[] } => {
  const middle = centre(car, loads);
  const { driverPlace = null, fuelTank = null } = car.details ?? {};
  const note = (mass: number, place: unknown, what: string): readonly string[] =>
    mass !== 0 && !place
      ? [
          `Where the ${what} is in this car is not known: its change is taken at the centre of gravity.`,
        ]
      : [];
  return {
    changes: [
      { name: 'driver', mass: seat, ...(driverPlace ?? middle) },
      { name: 'fuel', mass: fuel, x: (fuelTank ?? middle).x, y: (fuelTank ?? middle).y },
      { name: 'wear', mass: wear, x: -car.wheelbase / 2, y: 0 },
    ].filter(({ mass }) => mass !== 0),
    notes: [...note(seat, driverPlace, 'driver'), ...note(fuel, fuelTank, 'tank')],
  };
};

/**
 * The problem to be solved: the car as we weighed it, without the ballast that was in it, with seat and
 * fuel as they will read it, and what we must then read.
 */
export const ballastQuestion = ({
  car,
  loads,
  state,
  authority,
  total,
  plates,
  wish,
}: {
  readonly car: Car;
  /** Corner weights of our newest reading, kg; null where the car was not weighed. */
  readonly loads: PerCorner<number> | null;
  /** In which it was weighed. */
  readonly state: CarState;
  readonly authority: Authority;
  /** Their rule for the total; null where the car has none. */
  readonly total: {
    readonly limit: Limit;
    readonly prediction: Prediction | null;
    readonly whyNone: string | null;
  } | null;
  readonly plates: readonly PlateSize[];
  readonly wish: BallastWish;
}): BallastQuestion => {
  const refuse = (why: string): BallastQuestion => ({ ok: false, why });
  const places = (car.details?.ballastPlaces ?? []).filter(
    ({ id }) => !authority.ballast.notAt.includes(id),
  );
  if (!loads) return refuse('Weigh the car first: its corner weights are needed.');
  if (places.length === 0) return refuse('No place for ballast is known: add one below.');
  if (plates.every(({ count }) => count === 0)) return refuse('Say which plates you own.');
  if (!total) return refuse('The rules set no total for this car: add its limit to the board.');
  if (!total.prediction)
    return refuse(total.whyNone ?? 'Nothing is known of their reading of the total.');
  const must = mustRead(total.prediction, total.limit, authority.wished);
  if (!must.ok) return refuse(must.why);

  const { seatMass, fuelMass } = authority.reads;
  const between = (theirs: number | null, ours: number | null): number =>
    theirs === null || ours === null ? 0 : theirs - ours;
  const other = massChanges(car, loads, {
    seat: between(seatMass, state.seatMass),
    fuel: between(fuelMass, state.fuelMass),
    wear: 0,
  });
  const taken = (car.details?.ballastPlaces ?? []).flatMap(({ id, name, x, y }) => {
    const mass = wish.onBoard[id] ?? 0;
    return mass === 0 ? [] : [{ name, x, y, mass: -mass }];
  });
  const { most, mostPlates, fixing } = authority.ballast;
  const asWeighed: BallastProblem = {
    car,
    loads,
    bars: state.barsFree === 'yes' ? 'off' : 'on',
    total: { low: must.low, high: must.high },
    frontShare: wish.frontShare,
    leftShare: wish.leftShare,
    mostBallast: most,
    places: places.map((place) => ({
      id: place.id,
      name: place.name,
      x: place.x,
      y: place.y,
      z: place.z,
      leastMass: place.least,
      mostMass: place.most,
      mostPlates,
      takes: null,
      fixing,
    })),
    plates: plates.filter(({ count }) => count > 0),
  };
  const changed = withChanges(asWeighed, [...other.changes, ...taken]);
  return {
    ok: true,
    problem: { ...changed, loads: perCorner((corner) => changed.loads[corner]) },
    notes: [
      ...other.notes,
      ...(
        [
          ['The seat mass', seatMass, state.seatMass],
          ['The fuel', fuelMass, state.fuelMass],
        ] as const
      )
        .filter(([, theirs, ours]) => theirs === null || ours === null)
        .map(([what]) => `${what} is not said for both readings: taken as when we weighed.`),
      ...(state.barsFree === 'not checked'
        ? ['Bars were not checked: the predicted cross takes them as on.']
        : []),
    ],
  };
};
