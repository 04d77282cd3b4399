import { statics } from '../adjust/statics.ts';
import { inOrder, perCorner, type PerCorner } from '../corners.ts';
import type { Car } from '../sheet/car.ts';
import { kilogram, metre, metrePerSecond2, STANDARD_GRAVITY } from '../units.ts';
import type { Limit } from './prediction.ts';

/** A place where ballast may be fixed. Axes of ISO 8855: metre, x forward from the front axle, y left. */
export interface BallastPlace {
  readonly id: string;
  readonly name: string;
  readonly x: number;
  readonly y: number;
  /** Height over the ground; null where not known. */
  readonly z: number | null;
  /** Rules' and makers' limits of the place; null for none. */
  readonly leastMass: number | null;
  readonly mostMass: number | null;
  readonly mostPlates: number | null;
  /** Sizes that fit, by id; null where every size does. */
  readonly takes: readonly string[] | null;
  /** How plates are fixed there, as the rules ask: shown with the plan. */
  readonly fixing: string;
}

/** Plates of one size: `mass` each in kg, to the gram; how many are owned. */
export interface PlateSize {
  readonly id: string;
  readonly name: string;
  readonly mass: number;
  readonly count: number;
}

/** What is to be carried where, so that the limits hold. */
export interface BallastProblem {
  readonly car: Car;
  /** Corner weights without the plates to be placed, kg. */
  readonly loads: PerCorner<number>;
  readonly bars: 'on' | 'off';
  /** What we must read, kg (`mustRead`). */
  readonly total: Limit;
  /** Dead bands, fractions of one. */
  readonly frontShare: Limit;
  readonly leftShare: Limit;
  /** The most ballast that the rules allow, kg; null for none. */
  readonly mostBallast: number | null;
  readonly places: readonly BallastPlace[];
  readonly plates: readonly PlateSize[];
}

/** Plates of each size at each place: `counts[place][size]`, in the order of the problem. */
export type BallastCounts = readonly (readonly number[])[];

/** Less is not seen by any scale, kg: rounding of sums stays below it. */
export const UNSEEN = 1e-6;

/** More than anybody carries, kg: every mass that plates can make is counted through, to the gram. */
const MOST_OWNED = 1000;

const isWhole = (value: number): boolean => Number.isInteger(value) && value >= 0;
const reversed = ({ low, high }: Limit): boolean => low !== null && high !== null && low > high;

/** What is wrong with a problem, each in a sentence that says what to do; empty where nothing is. */
export const checkBallast = (problem: BallastProblem): readonly string[] => {
  const { car, loads, places, plates, mostBallast } = problem;
  const bands = [
    ['Total', problem.total, 1],
    ['Front share', problem.frontShare, 100],
    ['Left share', problem.leftShare, 100],
  ] as const;
  const total = inOrder(loads).reduce((sum, load) => sum + load, 0);
  const beyond = car.wheelbase;
  return [
    ...(total > 0 ? [] : ['There is no car on the pads: weigh it without ballast first.']),
    ...(places.length > 0 ? [] : ['No place for ballast is known: add one.']),
    ...bands.flatMap(([name, band]) =>
      reversed(band) ? [`${name}: the lower limit is above the upper one.`] : [],
    ),
    ...bands
      .filter(([, , unit]) => unit === 100)
      .flatMap(([name, { low, high }]) =>
        [low, high].some((limit) => limit !== null && !(limit > 0 && limit < 1))
          ? [`${name}: a limit is between 0 and 100 %.`]
          : [],
      ),
    ...(mostBallast !== null && !(mostBallast >= 0)
      ? ['The most ballast that the rules allow is zero or more.']
      : []),
    ...plates.flatMap(({ name, mass, count }) => [
      ...(mass >= 0.001 && mass < 1000
        ? []
        : [`${name}: the mass of a plate is above a gram and below 1000 kg.`]),
      ...(isWhole(count) ? [] : [`${name}: how many are owned is a whole number.`]),
    ]),
    ...(plates.reduce((sum, { mass, count }) => sum + mass * count, 0) > MOST_OWNED
      ? [`All plates together are above ${MOST_OWNED} kg: enter those that you have.`]
      : []),
    ...places.flatMap(({ name, x, y, leastMass, mostMass, mostPlates, takes }) => [
      ...(Math.abs(y) <= 2 && x <= beyond && x >= -2 * beyond
        ? []
        : [`${name}: it lies beside the car. Positions are in metres from the front axle.`]),
      ...(mostMass === null || mostMass >= 0 ? [] : [`${name}: its most mass is zero or more.`]),
      ...(reversed({ low: leastMass, high: mostMass })
        ? [`${name}: more mass must be there than may be.`]
        : []),
      ...(mostPlates === null || isWhole(mostPlates)
        ? []
        : [`${name}: its most plates is a whole number.`]),
      ...(takes ?? [])
        .filter((size) => plates.every(({ id }) => id !== size))
        .map((size) => `${name}: takes a size “${size}” that is not owned.`),
    ]),
  ];
};

/**
 * How a mass at (x, y) is shared by the four pads, parts of one: the car's statics with its centre of
 * gravity taken as staying where it is under tilt, which makes them linear (a tilt moves less than 0.1 kg).
 */
export const cornerShares = (
  { car, bars }: Pick<BallastProblem, 'car' | 'bars'>,
  { x, y }: { readonly x: number; readonly y: number },
): PerCorner<number> => {
  const rigid = { ...car, cgHeight: null };
  const level = perCorner(() => 0);
  const gravity = metrePerSecond2(STANDARD_GRAVITY);
  // Statics are for a standing car: the mass is what a heavier one has over a lighter one.
  const [mass, frontShare] = [1000, 0.5];
  const stand = (more: number) =>
    statics(
      {
        car: rigid,
        mass: kilogram(mass + more),
        frontShare: (mass * frontShare + more * (1 + x / car.wheelbase)) / (mass + more),
        cgLeft: metre((more * y) / (mass + more)),
        gravity,
      },
      { seats: level, pads: level, bars },
    ).loads;
  const [light, heavy] = [stand(0), stand(100)];
  return perCorner((corner) => (heavy[corner] - light[corner]) / (100 * gravity));
};

/** The most plates of a size that can go to a place; the counts of a plan lie within. */
export const mostAt = (place: BallastPlace, size: PlateSize): number => {
  if (place.takes && !place.takes.includes(size.id)) return 0;
  const byMass =
    place.mostMass === null ? Infinity : Math.floor((place.mostMass + UNSEEN) / size.mass);
  return Math.min(size.count, byMass, place.mostPlates ?? Infinity);
};
