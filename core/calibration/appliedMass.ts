import type { ReferenceMass } from '../sheet/massSet.ts';
import { fromExpanded, fromHalfWidth } from '../uncertainty/standardUncertainty.ts';
import { massFrom } from '../units.ts';
import { LARGEST_BUOYANCY } from './airBuoyancy.ts';
import { massClassLimit } from './massClassLimit.ts';

/** What a mass, or several of them, is and how well it is known; kg. */
export interface AppliedMass {
  /** Conventional mass. */
  readonly value: number;
  /** Standard uncertainty; null where nothing but the number on a mass is known. */
  readonly u: number | null;
  /** The parts of it: the mass as found, the air, and what it changed since it was last looked at. */
  readonly parts: {
    readonly mass: number;
    readonly buoyancy: number;
    readonly drift: number;
  } | null;
}

const known = (value: number, mass: number, buoyancy: number, drift: number): AppliedMass => ({
  value,
  u: Math.hypot(mass, buoyancy, drift),
  parts: { mass, buoyancy, drift },
});

/**
 * One mass. Nominal value within a class limit: limit/√3, air buoyancy limit/(4√3), drift of the
 * weight limit/(3√3) (EURAMET cg-18 v4.0, 7.1.2 and 7.1.3). A certificate: U/k. A maker's tolerance:
 * a/√3. Where no class bounds the effect of air, the most that it can be stands for it, rectangular.
 */
export const massKnown = ({ nominal, basis }: ReferenceMass): AppliedMass => {
  const value: number = massFrom(nominal.unit, nominal.value);
  const air = (mass: number): number => fromHalfWidth(LARGEST_BUOYANCY * mass, 'rectangular');
  switch (basis.is) {
    case 'class': {
      const limit = massClassLimit(value, basis.class);
      if (limit === null) return { value, u: null, parts: null };
      const u = fromHalfWidth(limit, 'rectangular');
      return known(value, u, u / 4, u / 3);
    }
    case 'certificate':
      return known(
        basis.value,
        fromExpanded(basis.expanded, basis.coverageFactor),
        air(basis.value),
        0,
      );
    case 'tolerance':
      return known(value, fromHalfWidth(basis.halfWidth, 'rectangular'), air(value), 0);
    case 'number only':
      return { value, u: null, parts: null };
  }
};

/**
 * Several masses of one set: their uncertainties are added, not squared, because weights of one set
 * were made and adjusted against the same standard (EURAMET cg-18 v4.0, 7.1.2). None is exactly none.
 */
export const appliedMass = (masses: readonly ReferenceMass[]): AppliedMass => {
  const parts = { mass: 0, buoyancy: 0, drift: 0 };
  let value = 0;
  let isKnown = true;
  for (const mass of masses) {
    const each = massKnown(mass);
    value += each.value;
    if (each.parts === null) isKnown = false;
    else {
      parts.mass += each.parts.mass;
      parts.buoyancy += each.parts.buoyancy;
      parts.drift += each.parts.drift;
    }
  }
  return isKnown
    ? known(value, parts.mass, parts.buoyancy, parts.drift)
    : { value, u: null, parts: null };
};
