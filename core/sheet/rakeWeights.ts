import { solvePositiveDefinite } from '../adjust/solvePositiveDefinite.ts';
import type { HeightPoint } from './carDetails.ts';

/** Points nearer together than this along or across the car cannot carry a slope, metre. */
const APART = 0.05;

const spread = (values: readonly number[]): number => Math.max(...values) - Math.min(...values);

/**
 * How much each reference point's height counts in the rake: rake = Σ wᵢ·hᵢ, the height over the rear
 * axle less that over the front axle, of the plane that fits the points best (least squares; a line
 * along the car where they all lie on one). The weights sum to zero, so what all heights have in common
 * is not in the rake. Null where the points have no length along the car, or lie on a slant from which
 * rake and roll cannot be told apart.
 */
export const rakeWeights = (
  points: readonly Pick<HeightPoint, 'x' | 'y'>[],
  wheelbase: number,
): readonly number[] | null => {
  if (points.length < 2 || spread(points.map(({ x }) => x)) < APART) return null;
  const across = spread(points.map(({ y }) => y)) >= APART;
  const middle = (of: 'x' | 'y'): number =>
    points.reduce((sum, point) => sum + point[of], 0) / points.length;
  const [mx, my] = [middle('x'), middle('y')];
  const rows = points.map(({ x, y }) => (across ? [x - mx, y - my] : [x - mx]));
  const columns = across ? [0, 1] : [0];
  const product = (a: number, b: number): number =>
    rows.reduce((sum, row) => sum + (row[a] as number) * (row[b] as number), 0);
  const normal = columns.flatMap((a) => columns.map((b) => product(a, b)));
  // Slope along the car per unit of each point's height: the first row of (AᵀA)⁻¹Aᵀ.
  if (
    across &&
    product(0, 0) * product(1, 1) - product(0, 1) ** 2 < 1e-6 * product(0, 0) * product(1, 1)
  )
    return null;
  const first = solvePositiveDefinite(normal, across ? [1, 0] : [1]);
  return rows.map(
    (row) => -wheelbase * row.reduce((sum, v, k) => sum + v * (first[k] as number), 0),
  );
};
