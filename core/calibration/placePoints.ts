import type { LeftOut, TakenPoint } from '../contract/calibrationRecord.ts';
import { SAMPLE_FLAGS } from '../reading.ts';
import type { MassSet } from '../sheet/massSet.ts';
import { appliedMass } from './appliedMass.ts';

/** A point in its place: what was applied, from which side, over which zero. */
export interface PlacedPoint {
  readonly taken: TakenPoint;
  /** Force applied, newton; its scatter at this point alone (a reference pad's), 0 for masses. */
  readonly force: number;
  readonly uForce: number;
  /** Number of the loading from nothing and back, from 1. */
  readonly cycle: number;
  /** Number of the taking of the zero it stands over, from 1. */
  readonly zero: number;
  readonly side: 'up' | 'down';
  readonly isZero: boolean;
  /** Number of the load, from 0 in rising order: points meant to have the same load share it. */
  readonly load: number;
  readonly leftOut: LeftOut | null;
}

/**
 * How near loads are that are meant to be the same, as a share of the top load: masses of one nominal
 * value differ by their tolerances (at most 5 parts in 10⁴ of each), a jack hits a load on the pad in
 * series only nearly. Common practice, no source.
 */
const SAME_MASSES = 2e-4;
const SAME_REFERENCE = 2e-3;

interface Applied {
  readonly taken: TakenPoint;
  readonly force: number;
  readonly uForce: number;
}

const massesOf = ({ massIds }: TakenPoint, set: MassSet | null): MassSet['masses'] =>
  massIds.map((id) => {
    const mass = set?.masses.find((each) => each.id === id);
    if (!mass) throw new RangeError(`no mass ${id} in the set`);
    return mass;
  });

const applied = (taken: TakenPoint, set: MassSet | null, gravity: number): Applied =>
  taken.reference
    ? { taken, force: taken.reference.value, uForce: taken.reference.u }
    : { taken, force: appliedMass(massesOf(taken, set)).value * gravity, uForce: 0 };

/** Numbers forces in rising order, those that differ by no more than `near` alike. */
const numberLoads = (forces: readonly number[], near: number): ((force: number) => number) => {
  const starts: number[] = [];
  let last = -Infinity;
  for (const force of forces.toSorted((a, b) => a - b)) {
    if (force - last > near) starts.push(force);
    last = force;
  }
  return (force) => starts.findLastIndex((start) => start <= force);
};

const unusable = (
  { padSerial, flags, risenElsewhere }: TakenPoint,
  own: string,
): LeftOut | null => {
  if (padSerial !== own) return 'other pad';
  if (flags & SAMPLE_FLAGS.saturated) return 'saturated';
  if (flags & SAMPLE_FLAGS.overload) return 'overloaded';
  return risenElsewhere === null ? null : 'elsewhere';
};

/**
 * Puts the points of one pad in their places, in the order of taking and in whatever order the masses
 * were placed: a load is reached from the side of the load before it. A cycle begins with the first
 * load after a zero; a new zero is taken where a zero is read again after a load. A load that is only
 * read again, and what is no reading of this pad's, is placed but left out of the fit. Points undone
 * are gone from here. Throws RangeError for a mass that is not in the set.
 */
export const placePoints = (
  points: readonly TakenPoint[],
  about: {
    readonly padSerial: string;
    readonly masses: MassSet | null;
    readonly gravity: number;
  },
): readonly PlacedPoint[] => {
  const all = points
    .filter(({ undone }) => !undone)
    .toSorted((a, b) => a.number - b.number)
    .map((taken) => applied(taken, about.masses, about.gravity));
  const near =
    Math.max(0, ...all.map(({ force }) => force)) *
    (all.some(({ taken }) => taken.reference) ? SAME_REFERENCE : SAME_MASSES);
  const isSame = (a: Applied, b: Applied): boolean => Math.abs(a.force - b.force) <= near;
  const loadOf = numberLoads(
    all.map(({ force }) => force),
    near,
  );

  let before: (Applied & { readonly isZero: boolean }) | null = null;
  let side: PlacedPoint['side'] = 'up';
  let [cycle, zero] = [1, 1];
  /** Whether a load was on since the cycle began, and since the zero was taken. */
  let [loadedCycle, loadedZero] = [false, false];
  return all.map((now) => {
    const useless = unusable(now.taken, about.padSerial);
    const isZero = isSame(now, { ...now, force: 0 });
    const load = loadOf(now.force);
    if (useless) return { ...now, cycle, zero, side, isZero, load, leftOut: useless };
    if (before?.isZero && loadedCycle) {
      cycle += 1;
      loadedCycle = false;
    }
    if (before?.isZero && isZero && loadedZero) {
      zero += 1;
      loadedZero = false;
    }
    const again: boolean = before !== null && isSame(now, before);
    if (isZero) side = before && !before.isZero ? 'down' : 'up';
    else if (before && !again) side = now.force > before.force ? 'up' : 'down';
    if (!isZero) [loadedCycle, loadedZero] = [true, true];
    before = { ...now, isZero };
    const leftOut = again && !isZero && !now.taken.placedAnew ? 'read again' : null;
    return { ...now, cycle, zero, side, isZero, load, leftOut };
  });
};

/** The points that the fit is made of. */
export const pointsInFit = (placed: readonly PlacedPoint[]): readonly PlacedPoint[] =>
  placed.filter(({ leftOut }) => leftOut === null);

/** How many different loads there are beside none, among these points. */
export const differentLoads = (placed: readonly PlacedPoint[]): number =>
  new Set(placed.filter(({ isZero }) => !isZero).map(({ load }) => load)).size;
