import { measured, type Measured } from '../measured.ts';
import { fittedAt, slopeAt, type Curve } from './polynomialFit.ts';

/** Newton steps; the curve of a pad is so nearly straight that three are enough. */
const MOST_STEPS = 30;

/**
 * The load that gives a reading, by the fitted curve: the root nearest to the straight answer. Its
 * standard uncertainty is that of one new reading (the mean of `readings` of them) and of the curve,
 * divided by the slope there (NIST/SEMATECH e-Handbook, 4.6.1.10 and 4.5.1.2). Null where the curve
 * does not reach the reading near there.
 */
export const inverseUse = (
  fit: Curve,
  reading: number,
  about: { readonly start: number; readonly readings?: number },
): Measured | null => {
  let x = about.start;
  for (let step = 0; step < MOST_STEPS; step += 1) {
    const slope = slopeAt(fit, x);
    if (!(Math.abs(slope) > 0)) return null;
    const next = x - (fittedAt(fit, x).value - reading) / slope;
    if (!Number.isFinite(next)) return null;
    const done = Math.abs(next - x) <= 1e-13 * Math.max(Math.abs(next), Number.MIN_VALUE);
    x = next;
    if (done) break;
    if (step === MOST_STEPS - 1) return null;
  }
  const scatter = fit.residualSd / Math.sqrt(about.readings ?? 1);
  const u = Math.hypot(scatter, fittedAt(fit, x).u) / Math.abs(slopeAt(fit, x));
  return measured(x, u, fit.dof);
};
