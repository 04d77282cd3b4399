import { fittedAt, polynomialFit, slopeAt, type Curve } from './polynomialFit.ts';

/** Points of the grid on which the inverse is made, and of the finer one on which it is judged. */
const NODES = 40;
const JUDGED = 400;

/** The curve turned round: force as a polynomial of the counts over zero. */
export interface TurnedCurve {
  /** As the seam wants them: newton per count^(k+1). */
  readonly coefficients: readonly number[];
  /** Largest difference to the exact inverse between no force and the top, newton. */
  readonly largestError: number;
}

/**
 * Turns the curve round: a straight one exactly; a bent one by a cubic through zero that agrees with
 * the exact inverse on Chebyshev's nodes from no force to `top`. Null where the curve does not rise or
 * fall throughout, so that one count would mean two forces.
 */
export const turnRound = (curve: Curve, top: number): TurnedCurve | null => {
  const grid = Array.from({ length: JUDGED }, (_, index) => (top * (index + 1)) / JUDGED);
  const slopes = [slopeAt(curve, 0), ...grid.map((force) => slopeAt(curve, force))];
  const rising = slopes[0] as number;
  if (rising === 0 || slopes.some((slope) => !(slope * rising > 0))) return null;
  if (curve.powers.length === 1) return { coefficients: [1 / rising], largestError: 0 };
  const nodes = Array.from({ length: NODES }, (_, k) => {
    const force = (top / 2) * (1 - Math.cos((Math.PI * (k + 0.5)) / NODES));
    return { x: fittedAt(curve, force).value, y: force };
  });
  const cubic = polynomialFit(nodes, { degree: 3, throughZero: true });
  if (!cubic.ok) return null;
  const errors = grid.map((force) =>
    Math.abs(fittedAt(cubic.fit, fittedAt(curve, force).value).value - force),
  );
  return { coefficients: cubic.fit.coefficients, largestError: Math.max(...errors) };
};
