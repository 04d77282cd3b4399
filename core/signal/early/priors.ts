import { MODES, SHAPES, SLOW } from './modalBasis.ts';

/**
 * What is known of any car before it is let down, as normal distributions: centre and standard
 * deviation of ln ω, ζ and ln τ. Bodies rock at 2 to 5 hertz, damped by 0.3 to above 0.8; rubber,
 * seals and gas give way in about a second (common practice, no source). Wide enough to be overruled by
 * a fraction of a period, and there for what a window cannot tell: a mode that does not move.
 */
const HERTZ = 3.2;
const SPREAD_OF_HERTZ = 0.4;
const DAMPING = 0.55;
const SPREAD_OF_DAMPING = 0.3;
const SLOW_TIME = 1.5;
const SPREAD_OF_SLOW_TIME = 0.25;

const omega = Math.log(2 * Math.PI * HERTZ);
const each = (forOmega: number, forDamping: number, forSlow: number): Float64Array =>
  Float64Array.from({ length: SHAPES }, (_, k) => {
    if (k === SLOW) return forSlow;
    return k < MODES ? forOmega : forDamping;
  });

export const SHAPE_CENTRE = each(omega, DAMPING, Math.log(SLOW_TIME));
export const SHAPE_SPREAD = each(SPREAD_OF_HERTZ, SPREAD_OF_DAMPING, SPREAD_OF_SLOW_TIME);
/** Never left by a step of the fit: 1.5 to 12 Hz, damping 0.15 to 2, 0.8 to 10 s. */
export const SHAPE_LEAST = each(Math.log(2 * Math.PI * 1.5), 0.15, Math.log(0.8));
export const SHAPE_MOST = each(Math.log(2 * Math.PI * 12), 2, Math.log(10));

/** Where a fit begins that has no better place: the three modes apart. */
export const shapeToBeginWith = (): Float64Array => {
  const shape = Float64Array.from(SHAPE_CENTRE);
  for (let mode = 0; mode < MODES; mode += 1)
    shape[mode] = omega + SPREAD_OF_HERTZ * (mode - (MODES - 1) / 2);
  return shape;
};

/**
 * Standard deviation of the slow part on a pad where there is one, N: what rubber, seals and gas still
 * hold back when a car is let down (common practice, no source). Total and moments are fixed by the
 * weight, so it goes along the warp pattern, which is (+1, −1, −1, +1) but for the ratio of the
 * tracks; in any other it is a fiftieth of that.
 */
export const SLOW_SIZE = 10;
const ELSEWHERE = 1 / 50;
/** Of unit length. */
export const WARP = [0.5, -0.5, -0.5, 0.5] as const;

/** Inverse covariance of the four pads' slow parts, row by row, 1/N². */
export const SLOW_PRECISION: readonly number[] = Array.from({ length: 16 }, (_, index) => {
  const i = index >> 2;
  const j = index & 3;
  const along = (2 * SLOW_SIZE) ** 2;
  const across = (ELSEWHERE * SLOW_SIZE) ** 2;
  const share = ((WARP[i] as number) * (WARP[j] as number) * along) / (along + across);
  return ((i === j ? 1 : 0) - share) / across;
});
