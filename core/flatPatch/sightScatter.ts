import { fTail } from '../statistics/fDistribution.ts';
import { incompleteGamma } from '../statistics/incompleteGamma.ts';
import { adjust, type Adjustment } from './networkAdjustment.ts';
import type { LevelSurvey } from './levelSurvey.ts';
import type { Network } from './network.ts';

/** How well one sight is read, and what told so. */
export interface SightScatter {
  readonly sd: number;
  readonly dof: number;
  /**
   * `points`: repeats agree better than the points fit their planes and set-ups, so the points' own
   * scatter counts, which repeats do not average out.
   */
  readonly from: 'stated' | 'sights' | 'stated and sights' | 'points';
  /** Scatter of the sights over the stated one, squared, with its tail; null where either is missing. */
  readonly againstStated: {
    readonly ratio: number;
    readonly above: number;
    readonly below: number;
  } | null;
}

/** One in a hundred for a warning that scatter is not what it should be: common practice, no source. */
const RARE = 0.01;
/** Rounds of finding the scatter from residuals whose weights depend on it: it settles in two or three. */
const ROUNDS = 4;

/** Tail of a ratio of mean squares, the second of them sure where d2 is infinite. */
export const ratioTail = (f: number, d1: number, d2: number): number =>
  d2 === Infinity ? 1 - incompleteGamma(d1 / 2, (d1 * f) / 2) : fTail(f, d1, d2);

/** Scatter of repeats of one point from one set-up about their mean: Σ squares and degrees of freedom. */
export const pureScatter = (
  survey: LevelSurvey,
  network: Network,
): { readonly squares: number; readonly dof: number } => {
  const groups = Map.groupBy(
    network.rows.filter((row) => row.sight !== null),
    (row) => {
      const sight = survey.sights[row.sight as number];
      return JSON.stringify([sight?.setUp, sight?.point]);
    },
  );
  let squares = 0;
  let dof = 0;
  for (const rows of groups.values()) {
    const mean = rows.reduce((sum, { right }) => sum + right, 0) / rows.length;
    squares += rows.reduce((sum, { right }) => sum + (right - mean) ** 2, 0);
    dof += rows.length - 1;
  }
  return { squares, dof };
};

const judged = (survey: LevelSurvey, adjustment: Adjustment): SightScatter | null => {
  const stated = survey.sightScatter;
  const pure = pureScatter(survey, adjustment.network);
  const own = adjustment.dof >= 1 ? adjustment.squares / adjustment.dof : null;
  const unfitDof = adjustment.dof - pure.dof;
  const unfit = unfitDof > 0 ? Math.max(0, adjustment.squares - pure.squares) / unfitDof : 0;

  const againstStated =
    own === null || !stated
      ? null
      : {
          ratio: own / stated.sd ** 2,
          above: ratioTail(own / stated.sd ** 2, adjustment.dof, stated.dof),
          below: 1 - ratioTail(own / stated.sd ** 2, adjustment.dof, stated.dof),
        };
  if (
    unfitDof >= 1 &&
    pure.dof >= 1 &&
    pure.squares > 0 &&
    fTail(unfit / (pure.squares / pure.dof), unfitDof, pure.dof) < RARE
  )
    return { sd: Math.sqrt(unfit), dof: unfitDof, from: 'points', againstStated };
  if (own === null) return stated ? { ...stated, from: 'stated', againstStated } : null;
  if (!stated || (againstStated && againstStated.above < RARE))
    return { sd: Math.sqrt(own), dof: adjustment.dof, from: 'sights', againstStated };
  if (stated.dof === Infinity) return { ...stated, from: 'stated', againstStated };
  const dof = stated.dof + adjustment.dof;
  return {
    sd: Math.sqrt((stated.dof * stated.sd ** 2 + adjustment.squares) / dof),
    dof,
    from: 'stated and sights',
    againstStated,
  };
};

/**
 * Solves the network and finds the scatter of a sight from it: pooled with the stated one where they
 * agree, from the sights alone where those scatter more than stated, and from the misfit of whole
 * points where that is more than repeats explain (lack of fit against pure error, NIST/SEMATECH
 * e-Handbook 4.4.4.6), which keeps uncertainties honest on pads that are not plane. With further errors
 * known beforehand the weights depend on the scatter: found again until it stays (variance components
 * after F. R. Helmert, one component free). Null in `scatter` where nothing tells; null for a network
 * whose unknowns cannot be told apart.
 */
export const adjustWithScatter = (
  survey: LevelSurvey,
  network: Network,
): { readonly adjustment: Adjustment; readonly scatter: SightScatter | null } | null => {
  const pure = pureScatter(survey, network);
  const start =
    survey.sightScatter?.sd ??
    (pure.dof > 0 && pure.squares > 0 ? Math.sqrt(pure.squares / pure.dof) : 1e-4);
  let adjustment = adjust(network, start);
  if (!adjustment) return null;
  let scatter = judged(survey, adjustment);
  for (let round = 0; round < ROUNDS && scatter && scatter.sd > 0; round += 1) {
    adjustment = adjust(network, scatter.sd) ?? adjustment;
    const again = judged(survey, adjustment);
    const settled = again !== null && Math.abs(again.sd - scatter.sd) < 1e-6 * scatter.sd;
    scatter = again;
    if (settled) break;
  }
  return { adjustment, scatter };
};
