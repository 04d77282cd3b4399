import { FIRST_MODE, FUNCTIONS, SHAPES } from './modalBasis.ts';
import { SHAPE_CENTRE, SHAPE_SPREAD, SLOW_PRECISION } from './priors.ts';

const PADS = 4;
/** Parameters that enter linearly, and all of them: the pads' coefficients, then the shape they share. */
export const LINEAR = PADS * FUNCTIONS;
export const PARAMETERS = LINEAR + SHAPES;

/** Calls back for every entry of the linear parameters' prior precision that is not zero. */
const eachLinear = (
  amplitudePrecision: number,
  take: (row: number, column: number, precision: number) => void,
): void => {
  for (let pad = 0; pad < PADS; pad += 1) {
    const at = pad * FUNCTIONS;
    for (let k = FIRST_MODE; k < FUNCTIONS; k += 1) take(at + k, at + k, amplitudePrecision);
    for (let other = 0; other < PADS; other += 1)
      take(at + 1, other * FUNCTIONS + 1, SLOW_PRECISION[PADS * pad + other] as number);
  }
};

/** Adds the priors of the linear parameters to a normal matrix `size` wide. */
export const addLinearPriors = (
  matrix: Float64Array,
  size: number,
  amplitudePrecision: number,
): void =>
  eachLinear(amplitudePrecision, (row, column, precision) => {
    matrix[row * size + column] = (matrix[row * size + column] as number) + precision;
  });

/** What the priors add to the squares. */
export const priorSquares = (
  coefficients: Float64Array,
  shape: Float64Array,
  amplitudePrecision: number,
): number => {
  let total = 0;
  eachLinear(amplitudePrecision, (row, column, precision) => {
    total += precision * (coefficients[row] as number) * (coefficients[column] as number);
  });
  for (let s = 0; s < SHAPES; s += 1)
    total +=
      (((shape[s] as number) - (SHAPE_CENTRE[s] as number)) / (SHAPE_SPREAD[s] as number)) ** 2;
  return total;
};

/** How many of the parameters the priors have determined: trace of covariance times their precision. */
export const determinedByPriors = (
  covariance: Float64Array,
  amplitudePrecision: number,
): number => {
  let total = 0;
  eachLinear(amplitudePrecision, (row, column, precision) => {
    total += precision * (covariance[row * PARAMETERS + column] as number);
  });
  for (let s = 0; s < SHAPES; s += 1)
    total +=
      (covariance[(LINEAR + s) * (PARAMETERS + 1)] as number) / (SHAPE_SPREAD[s] as number) ** 2;
  return total;
};
