import { moments } from '../signal/moments.ts';

/** A mean square and its degrees of freedom. */
export interface MeanSquare {
  readonly value: number;
  readonly dof: number;
}

/**
 * Differences in events: dᵢⱼ = μ + bᵢ + eᵢⱼ, the event's own bias bᵢ of variance σ_b² and the pair's
 * eᵢⱼ of variance σ_w². Every event's mean counts once, however many pairs it has.
 *
 * `between`, the variance of the event means, has expectation σ_b² + c·σ_w², c = `inverseCount` the
 * mean of 1/mᵢ; it is chi-squared to an excellent approximation for unequal events too, exactly for
 * equal ones (J. D. Thomas and R. A. Hultquist, Ann. Stat. 6 (1978) 582). `within` has σ_w².
 */
export interface EventScatter {
  readonly events: number;
  readonly pairs: number;
  readonly means: readonly number[];
  /** Mean of the event means. */
  readonly mean: number;
  /** Null for one event. */
  readonly between: MeanSquare | null;
  /** Null where no event has two pairs. */
  readonly within: MeanSquare | null;
  readonly inverseCount: number;
}

/** Scatter of differences, grouped by event. Throws RangeError for no or an empty group. */
export const eventScatter = (groups: readonly (readonly number[])[]): EventScatter => {
  const each = groups.map((group) => moments(group));
  const means = each.map(({ mean }) => mean);
  const overall = moments(means);
  const pairs = each.reduce((sum, { count }) => sum + count, 0);
  const squares = each.reduce(
    (sum, { count, sd }) => sum + (count > 1 ? (count - 1) * sd ** 2 : 0),
    0,
  );
  const dofWithin = pairs - each.length;
  return {
    events: each.length,
    pairs,
    means,
    mean: overall.mean,
    between: each.length > 1 ? { value: overall.sd ** 2, dof: each.length - 1 } : null,
    within: dofWithin > 0 ? { value: squares / dofWithin, dof: dofWithin } : null,
    inverseCount: each.reduce((sum, { count }) => sum + 1 / count, 0) / each.length,
  };
};

/** Mean square of several together, each weighed by its degrees of freedom (e-Handbook 2.4.4). */
export const pooled = (parts: readonly (MeanSquare | null)[]): MeanSquare | null => {
  const known = parts.filter((part) => part !== null);
  const dof = known.reduce((sum, part) => sum + part.dof, 0);
  if (dof === 0) return null;
  return { value: known.reduce((sum, part) => sum + part.dof * part.value, 0) / dof, dof };
};
