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
  // Derivatives but for the factor scale/(d·F) that all share; written out, as this runs live.
  const a = under ? over[0] - ratio * under[0] : over[0];
  const b = under ? over[1] - ratio * under[1] : over[1];
  const c = under ? over[2] - ratio * under[2] : over[2];
  const d = under ? over[3] - ratio * under[3] : over[3];
  const v = (entry: number): number => covariance[entry] as number;
  const variance =
    a * a * v(0) +
    b * b * v(5) +
    c * c * v(10) +
    d * d * v(15) +
    a * (b * (v(1) + v(4)) + c * (v(2) + v(8)) + d * (v(3) + v(12))) +
    b * (c * (v(6) + v(9)) + d * (v(7) + v(13))) +
    c * d * (v(11) + v(14));
  const u = Math.abs(scale / bottom) * Math.sqrt(Math.max(0, variance));

  let least = Infinity;
  let sum = 0;
  let fourths = 0;
  for (let i = 0; i < 4; i += 1) {
    const own = i === 0 ? a : i === 1 ? b : i === 2 ? c : d;
    const part = own * own * v(5 * i);
    if (!(part > 0)) continue;
    const nu = dof[i] as number;
    least = Math.min(least, nu);
    sum += nu;
    fourths += (part * part) / nu;
  }
  const welch = fourths > 0 ? (variance * variance) / fourths : Infinity;
  return measured(scale * ratio, u, sum > 0 ? Math.min(sum, Math.max(least, welch)) : Infinity);
};

const dot = (a: Four, b: Four): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2] + a[3] * b[3];
