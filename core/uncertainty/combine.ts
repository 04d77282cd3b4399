import { studentT } from '../signal/studentT.ts';

/** One contribution to an uncertainty, already in the unit of the result (sensitivity applied). */
export interface Term {
  readonly name: string;
  /** Evaluated from repeated readings (A) or by other means (B): JCGM 100:2008, 4.2 and 4.3. */
  readonly kind: 'A' | 'B';
  /** Standard uncertainty; null where it is not known, which is said and never taken as zero. */
  readonly u: number | null;
  readonly dof: number;
}

export interface Combined {
  readonly u: number;
  /** Effective degrees of freedom; Infinity where every known term's u is taken as known. */
  readonly dof: number;
  /** Half width of the interval with 95 % coverage. */
  readonly expanded: number;
  /** Each known term's share of the variance, in the order of the terms; null for an unknown one. */
  readonly shares: readonly (number | null)[];
  /** Names of the terms that are not known: what the result leaves out. */
  readonly unknown: readonly string[];
}

/** Standard uncertainty with its degrees of freedom. */
export interface Part {
  readonly u: number;
  readonly dof: number;
}

/**
 * Effective degrees of freedom of a sum of independent parts: Welch–Satterthwaite (JCGM 100:2008,
 * G.4.1), not rounded. Infinity where no part has finite degrees of freedom, or none has a variance.
 */
export const effectiveDof = (parts: readonly Part[]): number => {
  // Scaled by the largest part, so that fourth powers of small numbers do not vanish.
  const largest = Math.max(0, ...parts.map(({ u }) => u));
  if (largest === 0) return Infinity;
  let squares = 0;
  let fourths = 0;
  for (const { u, dof } of parts) {
    const share = (u / largest) ** 2;
    squares += share;
    fourths += share ** 2 / dof;
  }
  return fourths > 0 ? squares ** 2 / fourths : Infinity;
};

/** Combines independent terms (JCGM 100:2008, 5.1 and G.4); unknown ones are named, not counted. */
export const combine = (terms: readonly Term[]): Combined => {
  for (const { name, u, dof } of terms)
    if (u !== null && (!(u >= 0) || u === Infinity || !(dof > 0)))
      throw new RangeError(`${name}: not a standard uncertainty with its degrees of freedom`);
  const known = terms.flatMap(({ u, dof }) => (u === null ? [] : [{ u, dof }]));
  const u = Math.hypot(...known.map((part) => part.u));
  const dof = effectiveDof(known);
  return {
    u,
    dof,
    expanded: studentT(0.05, Math.max(1, dof)) * u,
    shares: terms.map((term) => (term.u === null ? null : u > 0 ? (term.u / u) ** 2 : 0)),
    unknown: terms.filter((term) => term.u === null).map(({ name }) => name),
  };
};
