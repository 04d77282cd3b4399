import type { PlacedPoint } from '../placePoints.ts';

/** How far points scatter about one straight line over their zeros, and its slope. */
export interface LineScatter {
  /** Residual standard deviation as a force, newton; Infinity for a line without slope. */
  readonly sd: number;
  /** Sum of squares of the residuals, counts². */
  readonly squares: number;
  readonly dof: number;
  /** Counts per newton. */
  readonly slope: number;
  /** Counts at no force over the first zero. */
  readonly zero: number;
}

/** Sums of the points over one zero, about their means. */
interface Block {
  count: number;
  x: number;
  y: number;
}

/**
 * A straight line through the points with a zero for each taking of it; null where there are too few.
 * `force` says what was applied, for asking what if it was something else. Ordinary least squares about
 * the means of each zero's points: hundreds of such questions are asked of a bad calibration, so the
 * general fit would take too long.
 */
export const lineScatter = (
  points: readonly PlacedPoint[],
  force: (point: PlacedPoint) => number = (point) => point.force,
): LineScatter | null => {
  const blocks = new Map<number, Block>();
  const forces = points.map(force);
  for (const [index, { zero, taken }] of points.entries()) {
    const block = blocks.get(zero) ?? { count: 0, x: 0, y: 0 };
    block.x += ((forces[index] as number) - block.x) / (block.count + 1);
    block.y += (taken.counts.value - block.y) / (block.count + 1);
    block.count += 1;
    blocks.set(zero, block);
  }
  const dof = points.length - blocks.size - 1;
  if (dof < 1) return null;
  let [xx, xy] = [0, 0];
  const about = points.map(({ zero, taken }, index): readonly [x: number, y: number] => {
    const block = blocks.get(zero) as Block;
    return [(forces[index] as number) - block.x, taken.counts.value - block.y];
  });
  for (const [x, y] of about) {
    xx += x * x;
    xy += x * y;
  }
  if (!(xx > 0)) return null;
  const slope = xy / xx;
  const squares = about.reduce((sum, [x, y]) => sum + (y - slope * x) ** 2, 0);
  const [first] = blocks.values();
  return {
    sd: slope === 0 ? Infinity : Math.sqrt(squares / dof) / Math.abs(slope),
    squares,
    dof,
    slope,
    zero: first ? first.y - slope * first.x : 0,
  };
};
