import { fittedAt, slopeAt, type Curve } from './polynomialFit.ts';

/** What is uncertain at a force, newton: the curve itself, and one more reading through it. */
export interface Prediction {
  /** Standard uncertainty of the curve. */
  readonly curve: number;
  /** That, and the scatter of one new placing (the mean of `readings` of them). */
  readonly reading: number;
  readonly dof: number;
}

/**
 * Prediction uncertainty at any force, newton (NIST/SEMATECH e-Handbook 4.5.1.2): that of the curve, and
 * with s/√m for new readings. The zero of the day and the masses are not in it.
 */
export const predictionAt = (curve: Curve, force: number, readings = 1): Prediction => {
  const slope = Math.abs(slopeAt(curve, force));
  const { u } = fittedAt(curve, force);
  const scatter = curve.residualSd / Math.sqrt(readings);
  return { curve: u / slope, reading: Math.hypot(u, scatter) / slope, dof: curve.dof };
};
