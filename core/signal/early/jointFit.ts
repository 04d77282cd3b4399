import { factor, invertFactored, solveFactored } from './cholesky.ts';
import {
  columnProduct,
  createColumns,
  fillDerivatives,
  fillFunctions,
  FUNCTIONS,
  SHAPES,
  type Columns,
} from './modalBasis.ts';
import { SHAPE_CENTRE, SHAPE_LEAST, SHAPE_MOST, SHAPE_SPREAD, shapeToBeginWith } from './priors.ts';
import {
  addLinearPriors,
  determinedByPriors,
  LINEAR,
  PARAMETERS,
  priorSquares,
} from './priorTerms.ts';

const PADS = 4;

/** One pad's part of the window. Written by whoever fills it. */
export interface FitPad {
  /** Seconds from the window's beginning, rising. */
  readonly times: Float64Array;
  /** Newton, from `level`. */
  readonly values: Float64Array;
  readonly residuals: Float64Array;
  count: number;
  level: number;
  /** Standard deviation of a sample's noise, N. */
  noise: number;
}

export interface JointFit {
  readonly pads: readonly [FitPad, FitPad, FitPad, FitPad];
  /** Where the next fit begins, and what the last one found: ln ω, ζ, ln τ. */
  readonly shape: Float64Array;
  /** `FUNCTIONS` for each pad: final value from its level, slow part, modes. */
  readonly coefficients: Float64Array;
  /** Of all parameters for the stated noise, row by row; valid after `spread`. */
  readonly covariance: Float64Array;
  /** Fits the window that the pads hold. False where the numbers do not allow it. */
  fit(mostSteps: number): boolean;
  /** Works the covariance out; returns how many parameters the data have determined, or NaN. */
  spread(): number;
}

/** What a fit gains by going on, in units of squares, below which it ends. */
const CONVERGED = 0.02;

/**
 * Fits the settled loads of four pads, a slow part and three damped modes whose frequencies and dampings
 * the pads share. Least squares with normal priors (`priors.ts`): the pads' coefficients enter linearly
 * and are solved for exactly at every shape (G. H. Golub and V. Pereyra, SIAM J. Numer. Anal. 10
 * (1973) 413); the seven numbers of the shape go by damped Gauss-Newton steps of the whole
 * problem, within bounds. The priors keep a mode that does not move, or two that coincide, from making
 * the equations singular. Room for `stride` samples of each pad is made once.
 */
export const createJointFit = (stride: number): JointFit => {
  const makePad = (): FitPad => ({
    times: new Float64Array(stride),
    values: new Float64Array(stride),
    residuals: new Float64Array(stride),
    count: 0,
    level: 0,
    noise: 1,
  });
  const pads: JointFit['pads'] = [makePad(), makePad(), makePad(), makePad()];
  const columns = pads.map(() => createColumns(stride));
  const shape = shapeToBeginWith();
  const trial = new Float64Array(SHAPES);
  const coefficients = new Float64Array(LINEAR);
  const linear = new Float64Array(LINEAR * LINEAR);
  const unfactored = new Float64Array(LINEAR * LINEAR);
  const normal = new Float64Array(PARAMETERS * PARAMETERS);
  const factored = new Float64Array(PARAMETERS * PARAMETERS);
  const covariance = new Float64Array(PARAMETERS * PARAMETERS);
  const step = new Float64Array(PARAMETERS);
  const gradient = new Float64Array(SHAPES);
  let amplitudePrecision = 0;

  /** Prior of the amplitudes: no mode is much larger than all that moved in the window. */
  const scaleAmplitudes = (): void => {
    let range = 0;
    for (const { values, count, noise } of pads) {
      let low = Infinity;
      let high = -Infinity;
      for (let i = 0; i < count; i += 1) {
        low = Math.min(low, values[i] as number);
        high = Math.max(high, values[i] as number);
      }
      range = Math.max(range, high - low + 4 * noise);
    }
    amplitudePrecision = 1 / (1.5 * range) ** 2;
  };

  /** Solves for the pads' coefficients at a shape. Returns the objective; NaN where it cannot. */
  const settleAt = (theta: Float64Array): number => {
    linear.fill(0);
    for (let pad = 0; pad < PADS; pad += 1) {
      const { times, values, count, noise } = pads[pad] as FitPad;
      const own = columns[pad] as Columns;
      const weight = 1 / (noise * noise);
      const at = pad * FUNCTIONS;
      fillFunctions(own, times, count, theta);
      for (let a = 0; a < FUNCTIONS; a += 1) {
        for (let b = 0; b <= a; b += 1)
          linear[(at + a) * LINEAR + at + b] = weight * columnProduct(own, a, b, count);
        let right = 0;
        for (let i = 0; i < count; i += 1)
          right += (own.at[a * stride + i] as number) * (values[i] as number);
        coefficients[at + a] = weight * right;
      }
    }
    addLinearPriors(linear, LINEAR, amplitudePrecision);
    unfactored.set(linear);
    if (!factor(linear, LINEAR)) return NaN;
    solveFactored(linear, LINEAR, coefficients);

    let total = 0;
    for (let pad = 0; pad < PADS; pad += 1) {
      const { values, residuals, count, noise } = pads[pad] as FitPad;
      const { at } = columns[pad] as Columns;
      const c = pad * FUNCTIONS;
      let sum = 0;
      for (let i = 0; i < count; i += 1) residuals[i] = values[i] as number;
      for (let k = 0; k < FUNCTIONS; k += 1) {
        const coefficient = coefficients[c + k] as number;
        for (let i = 0; i < count; i += 1)
          residuals[i] = (residuals[i] as number) - coefficient * (at[k * stride + i] as number);
      }
      for (let i = 0; i < count; i += 1) sum += (residuals[i] as number) ** 2;
      total += sum / (noise * noise);
    }
    return total + priorSquares(coefficients, theta, amplitudePrecision);
  };

  /** Normal matrix of all parameters, and the shape's half gradient, at what `settleAt` has left. */
  const linearise = (theta: Float64Array): void => {
    normal.fill(0);
    gradient.fill(0);
    for (let pad = 0; pad < PADS; pad += 1) {
      const { times, residuals, count, noise } = pads[pad] as FitPad;
      const own = columns[pad] as Columns;
      const weight = 1 / (noise * noise);
      const at = pad * FUNCTIONS;
      fillDerivatives(own, times, count, theta, coefficients, at);
      for (let s = 0; s < SHAPES; s += 1) {
        const row = (LINEAR + s) * PARAMETERS;
        for (let b = 0; b < FUNCTIONS; b += 1)
          normal[row + at + b] = weight * columnProduct(own, FUNCTIONS + s, b, count);
        for (let other = 0; other <= s; other += 1)
          normal[row + LINEAR + other] =
            (normal[row + LINEAR + other] as number) +
            weight * columnProduct(own, FUNCTIONS + s, FUNCTIONS + other, count);
        let right = 0;
        const column = (FUNCTIONS + s) * stride;
        for (let i = 0; i < count; i += 1)
          right += (own.at[column + i] as number) * (residuals[i] as number);
        gradient[s] = (gradient[s] as number) + weight * right;
      }
    }
    for (let row = 0; row < LINEAR; row += 1)
      for (let column = 0; column <= row; column += 1)
        normal[row * PARAMETERS + column] = unfactored[row * LINEAR + column] as number;
    for (let s = 0; s < SHAPES; s += 1) {
      const precision = 1 / (SHAPE_SPREAD[s] as number) ** 2;
      const diagonal = (LINEAR + s) * (PARAMETERS + 1);
      normal[diagonal] = (normal[diagonal] as number) + precision;
      gradient[s] =
        (gradient[s] as number) - precision * ((theta[s] as number) - (SHAPE_CENTRE[s] as number));
    }
  };

  /** A damped step from the shape; returns what it should gain, NaN where it cannot be made. */
  const tryStep = (damping: number): number => {
    factored.set(normal);
    for (let s = 0; s < SHAPES; s += 1) {
      const diagonal = (LINEAR + s) * (PARAMETERS + 1);
      factored[diagonal] =
        (factored[diagonal] as number) + damping / (SHAPE_SPREAD[s] as number) ** 2;
    }
    if (!factor(factored, PARAMETERS)) return NaN;
    step.fill(0, 0, LINEAR);
    for (let s = 0; s < SHAPES; s += 1) step[LINEAR + s] = gradient[s] as number;
    solveFactored(factored, PARAMETERS, step);
    let gain = 0;
    for (let s = 0; s < SHAPES; s += 1) {
      gain += (step[LINEAR + s] as number) * (gradient[s] as number);
      trial[s] = Math.min(
        SHAPE_MOST[s] as number,
        Math.max(SHAPE_LEAST[s] as number, (shape[s] as number) + (step[LINEAR + s] as number)),
      );
    }
    return gain;
  };

  const fit = (mostSteps: number): boolean => {
    scaleAmplitudes();
    let objective = settleAt(shape);
    if (Number.isNaN(objective)) return false;
    let damping = 0;
    linearise(shape);
    for (let done = 0; done < mostSteps; done += 1) {
      const gain = tryStep(damping);
      if (gain < CONVERGED) break;
      const found = Number.isNaN(gain) ? NaN : settleAt(trial);
      if (found <= objective) {
        const gained = objective - found;
        shape.set(trial);
        objective = found;
        linearise(shape);
        damping = damping > 1 ? damping / 10 : 0;
        if (gained < CONVERGED) break;
      } else {
        damping = damping === 0 ? 1 : damping * 10;
        objective = settleAt(shape);
        if (damping > 1e9) break;
      }
    }
    return true;
  };

  /** Parameters less what the priors have determined: their information over all of it. */
  const spread = (): number => {
    factored.set(normal);
    if (!factor(factored, PARAMETERS)) return NaN;
    invertFactored(factored, PARAMETERS, covariance, step);
    return PARAMETERS - determinedByPriors(covariance, amplitudePrecision);
  };

  return {
    pads,
    shape,
    coefficients,
    covariance,
    fit,
    spread,
  };
};
