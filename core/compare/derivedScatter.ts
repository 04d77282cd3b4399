import type { JointScatter } from './changeNoise.ts';

const dot = (a: readonly number[], b: readonly number[]): number => {
  let sum = 0;
  for (let k = 0; k < a.length; k += 1) sum += (a[k] as number) * (b[k] as number);
  return sum;
};

/**
 * Joint scatter of items followed by linear combinations of them, `slopes` one row for each: G·V·Gᵀ
 * with G the identity over the slopes (JCGM 100:2008, 5.2.2). Degrees of freedom of a combination by
 * Welch–Satterthwaite from its parts, kept within the bounds it has for independent ones.
 */
export const withDerived = (
  { covariance, dof }: JointScatter,
  slopes: readonly (readonly number[])[],
): JointScatter => {
  const shared = slopes.map((row) => covariance.map((line) => dot(row, line)));
  const own = shared.map((row) => slopes.map((other) => dot(row, other)));
  return {
    covariance: [
      ...covariance.map((line, i) => [...line, ...shared.map((row) => row[i] as number)]),
      ...shared.map((row, place) => [...row, ...(own[place] as number[])]),
    ],
    dof: [
      ...dof,
      ...slopes.map((row, place) => {
        let least = Infinity;
        let all = 0;
        let fourths = 0;
        row.forEach((slope, k) => {
          const part = slope ** 2 * (covariance[k]?.[k] as number);
          if (!(part > 0)) return;
          const known = dof[k] as number;
          least = Math.min(least, known);
          all += known;
          fourths += part ** 2 / known;
        });
        const variance = own[place]?.[place] as number;
        return fourths > 0 ? Math.min(all, Math.max(least, variance ** 2 / fourths)) : Infinity;
      }),
    ],
  };
};
