import type { MassClass } from '../sheet/massSet.ts';

/**
 * Largest errors of weights, milligram, in the order E1, E2, F1, F2, M1, M2, M3: OIML R 111-1:2004,
 * table 1. Null where the class has no such weight.
 */
const LIMITS: readonly (readonly [nominal: number, limits: readonly (number | null)[]])[] = [
  [500, [null, 800, 2_500, 8_000, 25_000, 80_000, 250_000]],
  [200, [null, 300, 1_000, 3_000, 10_000, 30_000, 100_000]],
  [100, [null, 160, 500, 1_600, 5_000, 16_000, 50_000]],
  [50, [25, 80, 250, 800, 2_500, 8_000, 25_000]],
  [20, [10, 30, 100, 300, 1_000, 3_000, 10_000]],
  [10, [5, 16, 50, 160, 500, 1_600, 5_000]],
  [5, [2.5, 8, 25, 80, 250, 800, 2_500]],
  [2, [1, 3, 10, 30, 100, 300, 1_000]],
  [1, [0.5, 1.6, 5, 16, 50, 160, 500]],
  [0.5, [0.25, 0.8, 2.5, 8, 25, 80, 250]],
  [0.2, [0.1, 0.3, 1, 3, 10, 30, 100]],
  [0.1, [0.05, 0.16, 0.5, 1.6, 5, 16, 50]],
];

const COLUMN: Readonly<Record<MassClass, number>> = {
  E1: 0,
  E2: 1,
  F1: 2,
  F2: 3,
  M1: 4,
  M2: 5,
  M3: 6,
};

/**
 * Largest error allowed to a weight of the class, kg, either way (OIML R 111-1:2004, 5.1). Null where
 * the Recommendation has no weight of this nominal value (kg): 25 kg or 50 lb is none of its weights.
 */
export const massClassLimit = (nominal: number, massClass: MassClass): number | null => {
  const row = LIMITS.find(([each]) => Math.abs(nominal - each) <= 1e-9 * each);
  const limit = row?.[1][COLUMN[massClass]] ?? null;
  return limit === null ? null : limit * 1e-6;
};
