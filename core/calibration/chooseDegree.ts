import { fTail } from '../statistics/fDistribution.ts';
import { lackOfFit } from './lackOfFit.ts';
import { polynomialFit, type Observation, type PolynomialFit } from './polynomialFit.ts';

/** The degree that the evidence asks for, and what the evidence was. */
export interface DegreeChosen {
  readonly degree: 1 | 2 | 3;
  readonly fit: PolynomialFit;
  readonly evidence:
    | {
        readonly kind: 'lack of fit';
        /** Probability of so much lack of fit by chance. */
        readonly p: number;
        /** Whether even the highest degree that could be tried leaves a lack of fit. */
        readonly remains: boolean;
      }
    /** No load was applied twice: the highest coefficient against its own scatter. */
    | { readonly kind: 'highest coefficient'; readonly p: number };
}

export type DegreeOutcome =
  | { readonly ok: true; readonly chosen: DegreeChosen }
  | { readonly ok: false; readonly why: string };

const DEGREES = [1, 2, 3] as const;
/** Below this probability a lack of fit, or a coefficient, is believed (e-Handbook 4.6.1). */
const BELIEVED = 0.05;

/** Probability that the highest coefficient is so far from zero by chance. */
const highestByChance = (fit: PolynomialFit): number => {
  const last = fit.powers.length - 1;
  const variance = fit.covariance[last]?.[last] ?? Number.NaN;
  if (!(variance > 0)) return 0;
  return fTail((fit.coefficients[last] as number) ** 2 / variance, 1, fit.dof);
};

/**
 * Chooses the lowest degree of 1 to 3 that the observations do not contradict. Where loads were
 * applied more than once the lack of fit is held against the pure error; where not, a degree is
 * given up only if the next coefficient stands out of its own scatter. Degrees for which there are
 * too few loads are not tried.
 */
export const chooseDegree = (
  observations: readonly Observation[],
  model: { readonly throughZero?: boolean } = {},
): DegreeOutcome => {
  const fits: { readonly degree: 1 | 2 | 3; readonly fit: PolynomialFit }[] = [];
  let why = '';
  for (const degree of DEGREES) {
    const outcome = polynomialFit(observations, { ...model, degree });
    if (!outcome.ok) {
      why = outcome.why;
      break;
    }
    fits.push({ degree, fit: outcome.fit });
  }
  const [line] = fits;
  if (!line) return { ok: false, why };

  if (lackOfFit(observations, line.fit)) {
    let last: DegreeChosen | null = null;
    for (const { degree, fit } of fits) {
      const lack = lackOfFit(observations, fit);
      if (!lack) break;
      const p = fTail(Math.max(0, lack.f), lack.dofLack, lack.dofPure);
      last = { degree, fit, evidence: { kind: 'lack of fit', p, remains: p < BELIEVED } };
      if (p >= BELIEVED) break;
    }
    if (last) return { ok: true, chosen: last };
  }
  let best = line;
  for (const next of fits.slice(1)) {
    if (highestByChance(next.fit) >= BELIEVED) break;
    best = next;
  }
  const p = highestByChance(best.fit);
  return { ok: true, chosen: { ...best, evidence: { kind: 'highest coefficient', p } } };
};
