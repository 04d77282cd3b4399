import { measured, type Measured } from '../measured.ts';
import { effectiveDof } from '../uncertainty/combine.ts';

/** Several results of the same inputs, with the covariance that these give them. */
export interface Joint {
  readonly values: readonly Measured[];
  /** In the products of the values' units, row by row. */
  readonly covariance: readonly (readonly number[])[];
}

/**
 * Results of independent measured inputs, with standard uncertainty and covariance. The part of each
 * input is ½·[f(x + u) − f(x − u)], the numerical form of the law of propagation (JCGM 100:2008, 5.1.3,
 * note 2); degrees of freedom by Welch and Satterthwaite (G.4.1). Null where f gives no finite number
 * within an input's uncertainty.
 */
export const propagatedJointly = (
  inputs: readonly Measured[],
  f: (x: readonly number[]) => readonly number[],
): Joint | null => {
  const x = inputs.map(({ value }) => value);
  const centre = f(x);
  const parts = inputs.map(({ u }, i) => {
    if (u === 0) return centre.map(() => 0);
    const at = (value: number): readonly number[] => f(x.with(i, value));
    const low = at((x[i] as number) - u);
    return at((x[i] as number) + u).map((high, k) => (high - (low[k] as number)) / 2);
  });
  if (![...centre, ...parts.flat()].every(Number.isFinite)) return null;
  const covariance = centre.map((_, j) =>
    centre.map((_unused, k) =>
      parts.reduce((sum, part) => sum + (part[j] as number) * (part[k] as number), 0),
    ),
  );
  return {
    values: centre.map((value, k) =>
      measured(
        value,
        Math.hypot(...parts.map((part) => part[k] as number)),
        effectiveDof(
          parts.map((part, i) => ({
            u: Math.abs(part[k] as number),
            dof: (inputs[i] as Measured).dof,
          })),
        ),
      ),
    ),
    covariance,
  };
};

/** One result of independent measured inputs; null as above. */
export const propagated = (
  inputs: readonly Measured[],
  f: (x: readonly number[]) => number,
): Measured | null => propagatedJointly(inputs, (x) => [f(x)])?.values[0] ?? null;
