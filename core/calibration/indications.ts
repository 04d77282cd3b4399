import { toForce, type Calibration } from './calibration.ts';
import type { PlacedPoint } from './placePoints.ts';

/** What the pad would show at a point, by its curve and over the zero read last before it. */
export interface Indication {
  readonly point: PlacedPoint;
  /** Mass applied and mass indicated, kg at the place of the calibration. */
  readonly load: number;
  readonly indicated: number;
  /** Indicated less applied. */
  readonly error: number;
}

/**
 * Indications of every point that is a reading of this pad's, those read again among them. The zero is
 * the one read last before the point, as it would be in use; before any was read, the one of the fit.
 */
export const indications = (
  placed: readonly PlacedPoint[],
  use: {
    readonly calibration: Calibration;
    /** Counts of each taking of the zero by the fit, from the first. */
    readonly zeros: readonly number[];
    readonly gravity: number;
  },
): readonly Indication[] => {
  let read: number | null = null;
  return placed
    .filter(({ leftOut }) => leftOut === null || leftOut === 'read again')
    .map((point) => {
      const { counts } = point.taken;
      const before = read ?? use.zeros[point.zero - 1] ?? counts.value;
      if (point.isZero) read = counts.value;
      const load = point.force / use.gravity;
      const indicated = toForce(use.calibration, before, counts.value) / use.gravity;
      return { point, load, indicated, error: indicated - load };
    });
};
