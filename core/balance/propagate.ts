import { measured, type Measured } from '../measured.ts';

/** Four numbers in the order LF, RF, LR, RR. */
export type Four = readonly [number, number, number, number];

/** Four measured forces together: what a combination of them needs. */
export interface JointForces {
  /** Newton, in the order LF, RF, LR, RR. */
  readonly values: Four;
  /** Covariance, N², row by row in that order. */
  readonly covariance: readonly number[];
  /** Degrees of freedom of each standard uncertainty. */
  readonly dof: Four;
}

/**
 * A linear form of four forces, or the ratio of two, with its standard uncertainty by the law of
 * propagation with full covariance, u² = J·V·Jᵀ (JCGM 100:2008, 5.2.2), J analytic:
 * for scale·(n·F)/(d·F) it is scale·(nᵢ − (n·F)/(d·F)·dᵢ)/(d·F).
 *
 * Degrees of freedom by Welch–Satterthwaite (JCGM 100, G.4.1) from the parts |Jᵢ|·uᵢ. That formula
 * is for independent parts; with covariances it is kept within the bounds it has for independent
 * ones, the least of the parts' degrees of freedom and their sum.
 */
export const propagate = (
  forces: JointForces,
  form: { readonly scale: number; readonly over: Four; readonly under?: Four },
): Measured => {
  const { values, covariance, dof } = forces;
  const { scale, over, under } = form;
  const bottom = under ? dot(under, values) : 1;
  const ratio = dot(over, values) / bottom;

  let variance = 0;
  let least = Infinity;
  let sum = 0;
  let fourths = 0;
  for (let i = 0; i < 4; i += 1) {
    const own = sensitivity(form, { at: i, ratio });
    if (own === 0) continue;
    for (let j = 0; j < 4; j += 1)
      variance += own * sensitivity(form, { at: j, ratio }) * (covariance[4 * i + j] as number);
    const part = own * own * (covariance[5 * i] as number);
    if (part > 0) {
      const nu = dof[i] as number;
      least = Math.min(least, nu);
      sum += nu;
      fourths += (part * part) / nu;
    }
  }
  const welch = fourths > 0 ? (variance * variance) / fourths : Infinity;
  const u = (Math.abs(scale) / Math.abs(bottom)) * Math.sqrt(Math.max(0, variance));
  return measured(scale * ratio, u, sum > 0 ? Math.min(sum, Math.max(least, welch)) : Infinity);
};

/** Derivative to the force at `at`, but for the factor scale/(d·F) that all share. */
const sensitivity = (
  form: { readonly over: Four; readonly under?: Four },
  point: { readonly at: number; readonly ratio: number },
): number =>
  (form.over[point.at] as number) -
  (form.under ? point.ratio * (form.under[point.at] as number) : 0);

const dot = (a: Four, b: Four): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2] + a[3] * b[3];
