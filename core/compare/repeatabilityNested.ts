import { moments } from '../signal/moments.ts';
import { varianceCombination, type VarianceEstimate } from '../statistics/varianceCombination.ts';

/** A sum of squares and its degrees of freedom. */
export interface Pool {
  readonly squares: number;
  readonly dof: number;
}

/** Standard deviation of several samples together: √(ΣSS/Σν) (e-Handbook 2.4.4). NaN without dof. */
export const pooledSd = (pools: readonly Pool[]): number => {
  const dof = pools.reduce((sum, pool) => sum + pool.dof, 0);
  return Math.sqrt(pools.reduce((sum, pool) => sum + pool.squares, 0) / dof);
};

/** Three-level nested study of one or more items. */
export interface RepeatabilityNested {
  /** Readings within a day; day means within a run; run means. */
  readonly level1: Pool;
  readonly level2: Pool;
  readonly level3: Pool;
  /** Standard deviations of the three levels as they come, s₁, s₂, s₃. */
  readonly sds: readonly [number, number, number];
  readonly repeatability: VarianceEstimate;
  /** What a new day adds, and a new run: s₂² − s₁²/J and s₃² − s₂²/K. */
  readonly days: VarianceEstimate;
  readonly runs: VarianceEstimate;
}

/**
 * Nested gauge study (NIST/SEMATECH e-Handbook 2.4.3 and 2.4.4): items of [run][day][reading], equally
 * many everywhere, pooled over the items. Null where the numbers are unequal or below two.
 */
export const repeatabilityNested = (
  items: readonly (readonly (readonly (readonly number[])[])[])[],
): RepeatabilityNested | null => {
  const runs = items[0]?.length ?? 0;
  const days = items[0]?.[0]?.length ?? 0;
  const readings = items[0]?.[0]?.[0]?.length ?? 0;
  if (runs < 2 || days < 2 || readings < 2) return null;
  const alike = items.every(
    (item) =>
      item.length === runs &&
      item.every((run) => run.length === days && run.every((day) => day.length === readings)),
  );
  if (!alike) return null;
  const pool = (values: readonly number[]): Pool => ({
    squares: (values.length - 1) * moments(values).sd ** 2,
    dof: values.length - 1,
  });
  const sum = (pools: readonly Pool[]): Pool => ({
    squares: pools.reduce((total, { squares }) => total + squares, 0),
    dof: pools.reduce((total, { dof }) => total + dof, 0),
  });
  const mean = (values: readonly number[]): number => moments(values).mean;
  const level1 = sum(items.flat(2).map(pool));
  const level2 = sum(items.flat().map((run) => pool(run.map(mean))));
  const level3 = sum(items.map((item) => pool(item.map((run) => mean(run.map(mean))))));
  const at = (level: Pool, coefficient: number) => ({
    coefficient,
    meanSquare: level.squares / level.dof,
    dof: level.dof,
  });
  return {
    level1,
    level2,
    level3,
    sds: [pooledSd([level1]), pooledSd([level2]), pooledSd([level3])],
    repeatability: varianceCombination([at(level1, 1)]),
    days: varianceCombination([at(level2, 1), at(level1, -1 / readings)]),
    runs: varianceCombination([at(level3, 1), at(level2, -1 / days)]),
  };
};
