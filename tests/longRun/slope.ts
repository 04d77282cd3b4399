/** Least squares slope of values against their times; 0 of fewer than two. */
export const slopeOf = (
  points: readonly { readonly at: number; readonly value: number }[],
): number => {
  const mean = (of: readonly number[]): number =>
    of.reduce((sum, each) => sum + each, 0) / of.length;
  const t = mean(points.map(({ at }) => at));
  const y = mean(points.map(({ value }) => value));
  const spread = points.reduce((sum, { at }) => sum + (at - t) ** 2, 0);
  if (spread === 0) return 0;
  return points.reduce((sum, { at, value }) => sum + (at - t) * (value - y), 0) / spread;
};
