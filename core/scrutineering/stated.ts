import type { Measured } from '../measured.ts';
import type { Prediction } from './prediction.ts';

/** What is known of their equipment without pairs. */
export type Stated =
  /** What the user states: theirs less ours and its standard uncertainty. */
  | { readonly basis: 'stated'; readonly difference: number; readonly u: number }
  /** The authority's own limits of error, ±. */
  | { readonly basis: 'limits of error'; readonly limit: number };

/**
 * Prediction without pairs. Nothing here holds our own uncertainty, so it is added: u² = u₁² + u₂²,
 * degrees of freedom by Welch–Satterthwaite (JCGM 100:2008, G.4.1). Limits of error say nothing of what
 * lies within them: the worst is taken.
 */
export const statedPrediction = (
  stated: Stated,
  ours: Measured,
):
  | { readonly ok: true; readonly prediction: Prediction }
  | { readonly ok: false; readonly why: string } => {
  const size = stated.basis === 'stated' ? stated.u : stated.limit;
  if (!(size >= 0) || size === Infinity)
    return { ok: false, why: 'An uncertainty or a limit of error is zero or more.' };
  const own = stated.basis === 'stated' ? stated.u ** 2 : 0;
  const between = own + ours.u ** 2;
  if (!(between > 0) && !(size > 0))
    return { ok: false, why: 'Nothing is certain: state an uncertainty or a limit of error.' };
  return {
    ok: true,
    prediction: {
      shift: stated.basis === 'stated' ? stated.difference : 0,
      between,
      dof: ours.u > 0 ? Math.max(1, (ours.dof * between ** 2) / ours.u ** 4) : Infinity,
      within: 0,
      limit: stated.basis === 'stated' ? 0 : stated.limit,
    },
  };
};
