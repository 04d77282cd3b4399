import { measured, type Measured } from '../measured.ts';
import { studentT } from '../signal/studentT.ts';
import { effectiveDof, type Part } from '../uncertainty/combine.ts';
import type { AppliedMass } from './appliedMass.ts';

/** One known mass on one pad, two minutes, at every venue. */
export interface MassCheck {
  /** Force read, newton, with the scatter of reading and zero. */
  readonly force: Measured;
  readonly mass: AppliedMass;
  /** Gravity of the place, m/s². */
  readonly gravity: number;
  /** Uncertainty of the pad's curve at this force, newton; null where it has none. */
  readonly curve: Part | null;
  /** The smallest relative change of span worth acting on. */
  readonly limit: number;
}

export interface MassChecked {
  /** Mass read over mass applied: 1 where the span still holds. */
  readonly ratio: Measured;
  /** Relative change, and its uncertainty from reading and zero alone: what a season's chart takes. */
  readonly relative: number;
  readonly uReading: number;
  /** Relative uncertainty of the mass; null where it is not known. */
  readonly uMass: number | null;
  /** Mass read less mass applied, kg. */
  readonly difference: number;
  readonly state: 'same' | 'moved' | 'cannot tell';
}

/**
 * Span of a pad against a known mass. Same: the 90 % interval of the change lies within the limit (two
 * one-sided tests at 5 %); moved: it is beyond the limit and its 95 % interval excludes none; else
 * cannot tell (design of the before-and-after comparison). A mass that is known only by the number on
 * it tells nothing. Throws RangeError for a mass, gravity or limit that is not above zero.
 */
export const checkMass = ({ force, mass, gravity, curve, limit }: MassCheck): MassChecked => {
  if (!(mass.value > 0) || !(gravity > 0) || !(limit > 0))
    throw new RangeError(`not a check: ${mass.value} kg, ${gravity} m/s², limit ${limit}`);
  const applied = mass.value * gravity;
  const uMass = mass.u === null ? null : mass.u / mass.value;
  const parts = [
    { u: force.u / applied, dof: force.dof },
    { u: uMass ?? 0, dof: Infinity },
    { u: (curve?.u ?? 0) / applied, dof: curve?.dof ?? Infinity },
  ];
  const u = Math.hypot(...parts.map((part) => part.u));
  const dof = Math.max(1, effectiveDof(parts));
  const relative = force.value / applied - 1;
  const size = Math.abs(relative);
  const state =
    uMass === null
      ? 'cannot tell'
      : size + studentT(0.1, dof) * u < limit
        ? 'same'
        : size > limit && size > studentT(0.05, dof) * u
          ? 'moved'
          : 'cannot tell';
  return {
    ratio: measured(1 + relative, u, dof),
    relative,
    uReading: force.u / applied,
    uMass,
    difference: force.value / gravity - mass.value,
    state,
  };
};

/** What a check mass says of gravity at the place. */
export interface GravityByMass {
  /** The mass is heavy enough to see the difference. */
  readonly canTell: boolean;
  /** The least mass that could tell, kg; Infinity where the two places have the same gravity. */
  readonly leastMass: number;
  /** Which gravity the reading fits, within twice its uncertainty; null where neither or both do. */
  readonly fits: 'here' | 'other' | null;
}

/**
 * Whether a check mass may contradict the gravity of the place: only where m·Δg/g is at least three
 * times the standard uncertainty of the check; else it cannot tell, and nothing is concluded. `other`
 * is the gravity that would explain another reading, as that of the place of the calibration.
 */
export const gravityByMass = (check: {
  readonly mass: number;
  /** Mass read with the gravity of the place, and its standard uncertainty, all in it; kg. */
  readonly read: number;
  readonly u: number;
  readonly here: number;
  readonly other: number;
}): GravityByMass => {
  const { mass, read, u, here, other } = check;
  const share = Math.abs(other - here) / here;
  const leastMass = share > 0 ? (3 * u) / share : Infinity;
  const canTell = mass >= leastMass;
  if (!canTell) return { canTell, leastMass, fits: null };
  // Were gravity the other one, the pad would be pressed by mass × other and read that over `here`.
  const asHere = Math.abs(read - mass) <= 2 * u;
  const asOther = Math.abs(read - (mass * other) / here) <= 2 * u;
  return { canTell, leastMass, fits: asHere === asOther ? null : asHere ? 'here' : 'other' };
};
