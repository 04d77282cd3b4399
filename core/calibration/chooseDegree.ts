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
    /**
     * No load was applied twice: the highest coefficient against its own scatter, and the corrected
     * information criterion of every degree tried, from 1, of which the least is best.
     */
    | {
        readonly kind: 'highest coefficient';
        readonly p: number;
        readonly criteria: readonly number[];
      };
}

export type DegreeOutcome =
  | { readonly ok: true; readonly chosen: DegreeChosen }
  | { readonly ok: false; readonly why: string };

const DEGREES = [1, 2, 3] as const;
/** Below this probability a coefficient is believed (e-Handbook 4.6.1). */
const BELIEVED = 0.05;
/** With repeats there are two looks, at the lack of fit and at the next coefficient: half for each. */
const EACH_LOOK = BELIEVED / 2;

/** Probability that the highest coefficient is so far from zero by chance. */
const highestByChance = (fit: PolynomialFit): number => {
  const last = fit.powers.length - 1;
  const variance = fit.covariance[last]?.[last] ?? Number.NaN;
  if (!(variance > 0)) return 0;
  return fTail((fit.coefficients[last] as number) ** 2 / variance, 1, fit.dof);
};

/**
 * Akaike's information criterion, corrected for few observations: n·ln(S/n) + 2k + 2k(k+1)/(n−k−1)
 * with the variance among the k parameters (C. M. Hurvich and C.-L. Tsai, Biometrika 76 (1989) 297).
 * Infinity where there are too few observations for it.
 */
const informationCriterion = ({ residualSd, dof, powers }: PolynomialFit): number => {
  const n = dof + powers.length;
  const k = powers.length + 1;
  if (n - k - 1 <= 0) return Infinity;
  return n * Math.log((residualSd ** 2 * dof) / n) + 2 * k + (2 * k * (k + 1)) / (n - k - 1);
};

/**
 * Chooses the lowest degree of 1 to 3 that the observations do not contradict. Where loads were
 * applied more than once the lack of fit is held against the pure error, and since that looks in all
 * directions at once and so misses a slight bend, the next coefficient is looked at too: a degree left
 * too low is an error that no interval holds. Where no load was applied twice, a higher degree is
 * taken only if its information criterion is the least and its highest coefficient stands out of its
 * own scatter. Degrees for which there are too few loads are not tried.
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
    for (const [index, { degree, fit }] of fits.entries()) {
      const lack = lackOfFit(observations, fit);
      if (!lack) break;
      const p = fTail(Math.max(0, lack.f), lack.dofLack, lack.dofPure);
      last = { degree, fit, evidence: { kind: 'lack of fit', p, remains: p < EACH_LOOK } };
      const next = fits[index + 1];
      if (p >= EACH_LOOK && !(next && highestByChance(next.fit) < EACH_LOOK)) break;
    }
    if (last) return { ok: true, chosen: last };
  }
  const criteria = fits.map(({ fit }) => informationCriterion(fit));
  let best = 0;
  for (const [index, { fit }] of fits.entries())
    if ((criteria[index] as number) < (criteria[best] as number) && highestByChance(fit) < BELIEVED)
      best = index;
  const { degree, fit } = fits[best] ?? line;
  const p = highestByChance(fit);
  return {
    ok: true,
    chosen: { degree, fit, evidence: { kind: 'highest coefficient', p, criteria } },
  };
};
