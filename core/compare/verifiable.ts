import { effectiveDof, type Part } from '../uncertainty/combine.ts';
import { finestLimit } from './verdict.ts';

/** Whether our own measurement can verify a tolerance. */
export interface Verifiable {
  readonly ok: boolean;
  /** Standard uncertainty of a change between the set-up and one later record. */
  readonly u: number;
  readonly dof: number;
  /** Limit over u; it should be 2.9 or more, with few degrees of freedom more still. */
  readonly ratio: number;
  /** The finest limit that can be verified with the readings planned. */
  readonly finest: number;
  /** Readings of each record that it would take; null where more readings do not help. */
  readonly readings: number | null;
}

/** More readings than this of one item nobody takes; common practice, no source. */
const MOST_READINGS = 30;

/**
 * For one item at release: can a change of `limit` be told from none, four times in five, when each of
 * two records is the mean of `readings` readings? `repeat` is the scatter of one reading, `laying` what
 * relaying the patch adds to a record (null where it stays), `unshared` the type B uncertainty of the
 * change; all in the unit of the item. Throws RangeError on a limit not above zero or no readings.
 */
export const verifiable = (item: {
  readonly limit: number;
  readonly repeat: Part;
  readonly laying: Part | null;
  readonly unshared: number;
  readonly readings: number;
}): Verifiable => {
  const { limit, repeat, laying, unshared, readings } = item;
  if (!(limit > 0)) throw new RangeError(`not a limit: ${limit}`);
  if (!(readings >= 1)) throw new RangeError(`not a number of readings: ${readings}`);
  const change = (n: number): Part => {
    const parts = [
      { u: repeat.u * Math.sqrt(2 / n), dof: repeat.dof },
      ...(laying ? [{ u: laying.u * Math.SQRT2, dof: laying.dof }] : []),
      { u: unshared, dof: Infinity },
    ];
    return { u: Math.hypot(...parts.map(({ u }) => u)), dof: effectiveDof(parts) };
  };
  const planned = change(readings);
  const counts = Array.from({ length: MOST_READINGS }, (_, index) => index + 1);
  return {
    ok: limit >= finestLimit(planned),
    u: planned.u,
    dof: planned.dof,
    ratio: limit / planned.u,
    finest: finestLimit(planned),
    readings: counts.find((n) => limit >= finestLimit(change(n))) ?? null,
  };
};
