/** What the tilt of a car on rigid wheels follows from, metre; one axle is lifted, the other stays down. */
export interface LiftGeometry {
  readonly wheelbase: number;
  /** Radius of the wheels of the axle that stays down, and of the one that is lifted. */
  readonly radiusStanding: number;
  readonly radiusLifted: number;
}

/**
 * Angle by which the body turns when the lifted wheel centres rise by `lift`, rad: the root of
 * L·sin θ + (r_l − r_s)·(cos θ − 1) = lift, L being measured along the ground with all wheels down.
 * Null where no angle below a right one does.
 */
export const liftAngle = (
  { wheelbase, radiusStanding, radiusLifted }: LiftGeometry,
  lift: number,
): number | null => {
  const step = radiusLifted - radiusStanding;
  const angle =
    Math.asin((lift + step) / Math.hypot(wheelbase, step)) - Math.atan2(step, wheelbase);
  return Number.isFinite(angle) && angle < Math.PI / 2 ? angle : null;
};

/**
 * sin θ/(L·cos θ − (r_l − r_s)·sin θ), per metre: the standing axle's load is a straight line in it,
 *
 *   load = W·share + W·(h − r̄)·leverage,  r̄ = r_s·share + r_l·(1 − share),
 *
 * from moments about the lifted contact, with both contacts below their wheel centres; exact for any
 * radii. It is tan θ/L for equal ones, which ISO 10392 plots.
 */
export const liftLeverage = (geometry: LiftGeometry, angle: number): number => {
  const step = geometry.radiusLifted - geometry.radiusStanding;
  return Math.sin(angle) / (geometry.wheelbase * Math.cos(angle) - step * Math.sin(angle));
};

/** Height of the wheel centres at the centre of gravity, by the share on the standing axle: r̄ above. */
export const centreHeight = (geometry: LiftGeometry, share: number): number =>
  geometry.radiusStanding * share + geometry.radiusLifted * (1 - share);
