/**
 * A measured value: best estimate, standard uncertainty and its degrees of freedom (JCGM 100:2008,
 * GUM). A value without an uncertainty is an input, not a measurement.
 */
export interface Measured<Q extends number = number> {
  readonly value: Q;
  /** Standard uncertainty, in the unit of the value; never negative. */
  readonly u: number;
  /** Effective degrees of freedom of `u`; Infinity where `u` is taken as known. */
  readonly dof: number;
}

/** Makes a measured value. Throws RangeError on a value that is not finite, u < 0 or dof <= 0. */
export const measured = <Q extends number>(value: Q, u: number, dof: number): Measured<Q> => {
  if (!Number.isFinite(value)) throw new RangeError(`not a finite value: ${value}`);
  if (!(u >= 0) || u === Infinity) throw new RangeError(`not a standard uncertainty: ${u}`);
  if (!(dof > 0)) throw new RangeError(`not degrees of freedom: ${dof}`);
  return { value, u, dof };
};
