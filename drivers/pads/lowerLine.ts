/** A line y = offset + slope · (x − origin). */
export interface Line {
  readonly slope: number;
  readonly offset: number;
  readonly origin: number;
}

/**
 * The line below all points that is nearest to them in the mean: the edge of their lower convex
 * hull that spans the mean abscissa, its slope held within ±`slopeLimit` (and at 0 while the points
 * span less than `slopeNeeds`). Points in order of rising x, at least one.
 *
 * A line under all points minimises the sum of distances exactly when it minimises its distance at
 * the mean abscissa; the hull's edge there does. Andrew's monotone chain, linear for sorted points.
 */
export const lowerLine = (
  xs: readonly number[],
  ys: readonly number[],
  { slopeLimit, slopeNeeds }: { readonly slopeLimit: number; readonly slopeNeeds: number },
): Line => {
  const origin = xs[xs.length - 1] ?? 0;
  const span = origin - (xs[0] ?? 0);
  const slope = span < slopeNeeds ? 0 : hullSlope(xs, ys);
  const held = Math.max(-slopeLimit, Math.min(slopeLimit, slope));
  let offset = Infinity;
  for (let k = 0; k < xs.length; k++)
    offset = Math.min(offset, (ys[k] ?? 0) - held * ((xs[k] ?? 0) - origin));
  return { slope: held, offset, origin };
};

/** Slope of the lower hull's edge over the mean of x. */
const hullSlope = (xs: readonly number[], ys: readonly number[]): number => {
  const hull: number[] = [];
  let sum = 0;
  for (let k = 0; k < xs.length; k++) {
    const x = xs[k] ?? 0;
    const y = ys[k] ?? 0;
    sum += x;
    while (hull.length >= 2) {
      const a = hull[hull.length - 2] ?? 0;
      const b = hull[hull.length - 1] ?? 0;
      const ax = xs[a] ?? 0;
      const ay = ys[a] ?? 0;
      const turn = ((xs[b] ?? 0) - ax) * (y - ay) - ((ys[b] ?? 0) - ay) * (x - ax);
      if (turn > 0) break;
      hull.pop();
    }
    hull.push(k);
  }
  const mean = sum / xs.length;
  for (let k = 0; k + 1 < hull.length; k++) {
    const a = hull[k] ?? 0;
    const b = hull[k + 1] ?? 0;
    const ax = xs[a] ?? 0;
    const bx = xs[b] ?? 0;
    if (bx >= mean && bx > ax) return ((ys[b] ?? 0) - (ys[a] ?? 0)) / (bx - ax);
  }
  return 0;
};
