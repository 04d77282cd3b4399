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
  const top = dot(over, values);
  const bottom = under ? dot(under, values) : 1;
  const ratio = top / bottom;
  const jacobian = over.map(
    (n, index) => (scale * (n - (under ? ratio * (under[index] as number) : 0))) / bottom,
  );

  let variance = 0;
  for (let i = 0; i < 4; i += 1)
    for (let j = 0; j < 4; j += 1)
      variance +=
        (jacobian[i] as number) * (covariance[4 * i + j] as number) * (jacobian[j] as number);
  const u = Math.sqrt(Math.max(0, variance));

  let least = Infinity;
  let sum = 0;
  let fourths = 0;
  jacobian.forEach((sensitivity, index) => {
    const part = sensitivity * sensitivity * (covariance[5 * index] as number);
    if (!(part > 0)) return;
    const nu = dof[index] as number;
    least = Math.min(least, nu);
    sum += nu;
    fourths += (part * part) / nu;
  });
  const welch = fourths > 0 ? (variance * variance) / fourths : Infinity;
  return measured(scale * ratio, u, sum > 0 ? Math.min(sum, Math.max(least, welch)) : Infinity);
};

const dot = (a: Four, b: Four): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2] + a[3] * b[3];
