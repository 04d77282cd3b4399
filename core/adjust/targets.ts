import type { CrossDiagonal } from '../contract/records.ts';
import { CORNERS, CORNER_NAMES, type Corner, type PerCorner } from '../corners.ts';
import type { Footprint } from '../balance/centreOfGravity.ts';
import type { Four } from '../balance/propagate.ts';
import { overWheels, riseShares, type HeightPoint } from './heightPoint.ts';
import type { AdjustReading } from './reading.ts';
import { refused, type AdjustRefusal } from './refusal.ts';

/** A wanted value and how far from it is still good, in its unit. */
export interface Goal {
  readonly target: number;
  readonly tolerance: number;
}

/** A ride height to reach, metre, or to keep as it is within its tolerance. */
export interface HeightGoal {
  readonly point: HeightPoint;
  readonly target: number | 'keep';
  readonly tolerance: number;
}

/** What the car is to become. Null is nothing wanted. */
export interface Targets {
  /** Which diagonal is cross weight: for what is shown, too. */
  readonly diagonal: CrossDiagonal;
  /** Share of the diagonal, a fraction, or kept as it is. */
  readonly cross: { readonly target: number | 'keep'; readonly tolerance: number } | null;
  /** Corner weights, kg. */
  readonly cornerWeights: PerCorner<Goal | null>;
  /** Where the body shall stand; the reading's heights are in this order. */
  readonly heights: readonly HeightGoal[];
  /** What perches cannot change: compared, and said with what can. */
  readonly total: Goal | null;
  readonly frontShare: Goal | null;
  readonly leftShare: Goal | null;
}

/** Ride heights over all four wheels kept as they are, within the tolerance (metre). */
export const keptHeights = (car: Footprint, tolerance: number): readonly HeightGoal[] =>
  overWheels(car).map((point) => ({ point, target: 'keep', tolerance }));

/** One thing wanted, as a row of the plan. */
export interface WantedRow {
  readonly kind: 'cross' | 'corner weight' | 'height';
  /** The corner of a corner weight, else null; the index of a height's point, else null. */
  readonly corner: Corner | null;
  readonly point: number | null;
  /** Change of the wanted value by the eight changes of loads (N) and rises over the wheels (m). */
  readonly by: readonly number[];
  /** Target less what is there now: a fraction, kg or metre. */
  readonly away: number;
  readonly tolerance: number;
}

const isTolerance = (value: number): boolean => value > 0 && value < Infinity;

/** The rows of what is wanted from a reading, or what is wrong with it, in words. */
export const wantedRows = (
  car: Footprint,
  reading: AdjustReading,
  targets: Targets,
): { readonly ok: true; readonly rows: readonly WantedRow[] } | AdjustRefusal => {
  const { loads, gravity } = reading;
  const total = loads.values.reduce((sum, load) => sum + load, 0);
  if (!(total > 0 && gravity > 0) || loads.values.some((load) => !(load > 0)))
    return refused(
      'no reading',
      'The four loads do not make a standing car. Lower the car on all four pads and let it settle.',
    );
  const rows: WantedRow[] = [];
  const none = { corner: null, point: null };
  const { cross } = targets;
  if (cross) {
    const own: Four = targets.diagonal === 'RF+LR' ? [0, 1, 1, 0] : [1, 0, 0, 1];
    const now = own.reduce((sum, each, i) => sum + each * (loads.values[i] as number), 0) / total;
    if (!isTolerance(cross.tolerance))
      return refused('no target', 'Cross weight has no tolerance above zero. Enter one.');
    if (cross.target !== 'keep' && !(cross.target > 0 && cross.target < 1))
      return refused('not physical', 'A cross weight lies between 0 and 100 %. Check the target.');
    rows.push({
      ...none,
      kind: 'cross',
      by: [...own.map((each) => each / total), 0, 0, 0, 0],
      away: cross.target === 'keep' ? 0 : cross.target - now,
      tolerance: cross.tolerance,
    });
  }
  for (const [i, corner] of CORNERS.entries()) {
    const goal = targets.cornerWeights[corner];
    if (!goal) continue;
    if (!(goal.target > 0 && goal.target < Infinity && isTolerance(goal.tolerance)))
      return refused(
        'not physical',
        `The corner weight wanted at the ${CORNER_NAMES[corner]} and its tolerance must be above zero. Check them.`,
      );
    rows.push({
      ...none,
      kind: 'corner weight',
      corner,
      by: Array.from({ length: 8 }, (_, k) => (k === i ? 1 / gravity : 0)),
      away: goal.target - (loads.values[i] as number) / gravity,
      tolerance: goal.tolerance,
    });
  }
  if (rows.length === 0)
    return refused(
      'no target',
      'No cross weight and no corner weight is wanted. Enter one, or keep the cross weight as it is.',
    );
  if (targets.heights.length === 0)
    return refused(
      'no target',
      'Nothing is said about ride heights. Enter targets, or how far they may move.',
    );
  for (const [index, { point, target, tolerance }] of targets.heights.entries()) {
    if (!isTolerance(tolerance))
      return refused('no target', `The ride height at ${point.name} has no tolerance above zero.`);
    const now = reading.heights[index]?.value;
    if (target !== 'keep' && now === undefined)
      return refused(
        'no height',
        `The ride height at ${point.name} has a target but was not measured. Measure it, or keep it as it is.`,
      );
    rows.push({
      ...none,
      kind: 'height',
      point: index,
      by: [0, 0, 0, 0, ...riseShares(car, point)],
      away: target === 'keep' || now === undefined ? 0 : target - now,
      tolerance,
    });
  }
  return { ok: true, rows };
};
