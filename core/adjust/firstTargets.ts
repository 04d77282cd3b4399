import type { CrossDiagonal } from '../contract/records.ts';
import type { Measured } from '../measured.ts';
import type { Car } from '../sheet/car.ts';
import { lineOf, type SetUpSheet } from '../sheet/setUpSheet.ts';
import { keptHeights, type Goal, type HeightGoal, type Targets } from './targets.ts';

/** Where no sheet says it: cross weight within 0.1 %, heights within 0.5 mm; common practice, no source. */
const CROSS_WITHIN = 0.001;
const HEIGHT_WITHIN = 0.0005;

const goalOf = (sheet: SetUpSheet | null, item: string): Goal | null => {
  const line = sheet && lineOf(sheet, item);
  return line && line.target !== null && line.tolerance !== null
    ? { target: line.target, tolerance: line.tolerance }
    : null;
};

/**
 * Targets to begin with: the sheet's, for what it has. Without one cross weight is kept as it is, and
 * so is every height that was not measured. Heights are in the order of the car's reference points, or
 * over the wheels where it has none.
 */
export const firstTargets = (input: {
  readonly car: Car;
  readonly sheet: SetUpSheet | null;
  readonly diagonal: CrossDiagonal;
  /** By reference point of the car; null where it was not measured. */
  readonly heights: (pointId: string) => Measured | null;
}): { readonly targets: Targets; readonly heights: readonly (Measured | null)[] } => {
  const { car, sheet } = input;
  const points = car.details?.heightPoints ?? [];
  const heights = points.map(({ id }) => input.heights(id));
  const goals = points.map(({ id, name, x, y }, i): HeightGoal => {
    const goal = goalOf(sheet, `height.${id}`);
    return {
      point: { name, x, y },
      target: goal && heights[i] ? goal.target : 'keep',
      tolerance: goal?.tolerance ?? HEIGHT_WITHIN,
    };
  });
  const over = keptHeights(car, HEIGHT_WITHIN);
  return {
    targets: {
      diagonal: sheet?.cross ?? input.diagonal,
      cross: goalOf(sheet, 'crossShare') ?? { target: 'keep', tolerance: CROSS_WITHIN },
      cornerWeights: { LF: null, RF: null, LR: null, RR: null },
      heights: points.length > 0 ? goals : over,
      total: goalOf(sheet, 'total'),
      frontShare: goalOf(sheet, 'frontShare'),
      leftShare: goalOf(sheet, 'leftShare'),
    },
    heights: points.length > 0 ? heights : over.map(() => null),
  };
};
