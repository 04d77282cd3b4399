import { effectiveDof } from '../uncertainty/combine.ts';
import type { Matrix } from './independentItems.ts';

/** Covariance of a vector of items with the degrees of freedom of each one's variance. */
export interface JointScatter {
  readonly covariance: Matrix;
  readonly dof: readonly number[];
}

/** What makes two records of an unchanged car differ; every matrix in the order of the items. */
export interface ChangeNoise {
  /** One reading again on the untouched patch by the same people: repeatability. */
  readonly repeat: JointScatter;
  /**
   * What laying the patch again adds to each record, however often it was read: intermediate precision
   * less repeatability. Null where the patch was not relaid between the two.
   */
  readonly laying: JointScatter | null;
  /** Type B covariance of the change: only what the two records do not share. Null for nothing. */
  readonly unshared: Matrix | null;
  /** Readings averaged for each item, before and after. */
  readonly readings: readonly { readonly before: number; readonly after: number }[];
}

/**
 * Covariance of the change of each item, after less before: u² = s²(1/n₁ + 1/n₂) + u_B², with two
 * layings' scatter added once each where the patch was relaid; for single readings that is twice the
 * variance of intermediate precision. Items read a different number of times share the lowerings that
 * they have in common. Degrees of freedom by Welch–Satterthwaite, that of type B taken as known.
 * `after` asks for what it would be with at least so many readings after.
 */
export const changeScatter = (noise: ChangeNoise, after?: number): JointScatter => {
  const { repeat, laying, unshared, readings } = noise;
  const counts = readings.map((each) => ({
    before: each.before,
    after: Math.max(each.after, after ?? 1),
  }));
  const entry = (matrix: Matrix, i: number, j: number): number => matrix[i]?.[j] as number;
  const shrunk = (i: number, j: number): number => {
    const [a, b] = [counts[i], counts[j]] as [(typeof counts)[0], (typeof counts)[0]];
    return 1 / Math.max(a.before, b.before) + 1 / Math.max(a.after, b.after);
  };
  const repeated = (i: number, j: number): number => entry(repeat.covariance, i, j) * shrunk(i, j);
  const relaid = (i: number, j: number): number =>
    laying ? 2 * entry(laying.covariance, i, j) : 0;
  const known = (i: number, j: number): number => (unshared ? entry(unshared, i, j) : 0);
  return {
    covariance: readings.map((_, i) =>
      readings.map((_unused, j) => repeated(i, j) + relaid(i, j) + known(i, j)),
    ),
    dof: readings.map((_, i) =>
      effectiveDof([
        { u: Math.sqrt(repeated(i, i)), dof: repeat.dof[i] as number },
        { u: Math.sqrt(relaid(i, i)), dof: laying?.dof[i] ?? Infinity },
        { u: Math.sqrt(known(i, i)), dof: Infinity },
      ]),
    ),
  };
};
