/**
 * One item of the car read twice: by us, and by an authority's equipment. SI inside; a total in kg.
 * `total` is the mass of the whole car: it takes seat and fuel masses as they are, the others do not.
 */
const ITEM_KINDS = ['total', 'mass', 'length', 'angle', 'share', 'other'] as const;
export type ItemKind = (typeof ITEM_KINDS)[number];

export const TYRE_STATES = ['set-up wheels', 'cold', 'hot', 'hot with pick-up'] as const;

/** What the car was in when it was read; null is not checked. */
export interface ReadingState {
  /** Driver or dummy mass and fuel on board, kg. */
  readonly seatMass: number | null;
  readonly fuelMass: number | null;
  readonly tyres: (typeof TYRE_STATES)[number] | null;
}

/** The car when we read it, and when they do. */
export interface BothStates {
  readonly ours: ReadingState;
  readonly theirs: ReadingState;
}

export interface Pair {
  readonly id: string;
  /** Pairs of one event share its bias. */
  readonly event: string;
  /** Date and venue, as people read them. */
  readonly label: string;
  /** Days since any fixed day, for the trend; null where not known. */
  readonly day: number | null;
  readonly ours: number;
  readonly theirs: number;
  /**
   * For masses of pads that measure force, m/s²: gravity by which the force was divided, and that of
   * the place. Null where the two are the same. Their reading is taken as it is given.
   */
  readonly gravity: { readonly taken: number; readonly there: number } | null;
  readonly states: BothStates;
}

const isMass = (kind: ItemKind): boolean => kind === 'total' || kind === 'mass';

/** Ours with gravity taken out once: force / g of the place. */
export const oursAtTheirPlace = (kind: ItemKind, { ours, gravity }: Pair): number =>
  isMass(kind) && gravity ? (ours * gravity.taken) / gravity.there : ours;

/** Seat and fuel mass that came on between our reading and theirs, kg; null where not known. */
export const massBetween = ({ ours, theirs }: BothStates): number | null => {
  if (ours.seatMass === null || theirs.seatMass === null) return null;
  if (ours.fuelMass === null || theirs.fuelMass === null) return null;
  return theirs.seatMass - ours.seatMass + (theirs.fuelMass - ours.fuelMass);
};

/**
 * Theirs less ours, ours at the gravity of the place and, for a total, in their state of seat and
 * fuel. With masses that were not checked nothing is corrected: the caller says so.
 */
export const difference = (kind: ItemKind, pair: Pair): number => {
  const added = kind === 'total' ? (massBetween(pair.states) ?? 0) : 0;
  return pair.theirs - (oursAtTheirPlace(kind, pair) + added);
};

/** Masses on board may differ by so much before a height or angle is another car's, kg; no source. */
const SAME_LOAD = 2;

/**
 * Why a pair says nothing of the next reading: another step of the car's state between ours and theirs.
 * Null where it does. What was not checked is taken as alike.
 */
export const otherState = (kind: ItemKind, pair: Pair, next: BothStates | null): string | null => {
  if (!next) return null;
  for (const side of ['ours', 'theirs'] as const) {
    const [then, now] = [pair.states[side].tyres, next[side].tyres];
    if (then !== null && now !== null && then !== now)
      return `${side === 'ours' ? 'ours was' : 'theirs was'} read on ${then}, the next is on ${now}`;
  }
  const [then, now] = [massBetween(pair.states), massBetween(next)];
  if (kind !== 'total' && then !== null && now !== null && Math.abs(then - now) > SAME_LOAD)
    return 'seat or fuel changed by another mass between the two readings';
  return null;
};
