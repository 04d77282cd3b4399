import { CORNERS, perCorner } from '../corners.ts';
import { predictChange, type Effects, type TurnResponse } from './turnResponse.ts';
import { warpPattern } from './warp.ts';

/**
 * Weights that read the warp out of a change of four loads: w·n = 1, and a push anywhere on the body
 * adds nothing. A push moves the body by some heave, pitch and roll, ΔF = −K·A·q, and w = K⁻¹n over
 * n·K⁻¹n is square to that because the warp is in balance, Aᵀn = 0. So a hand on the car while the
 * wrench turns is not read as turns, but for what is not known of the rates.
 */
export const warpWeights = (response: TurnResponse, logFactors: readonly number[]): number[] => {
  const { car } = response.standing;
  const n = CORNERS.map((corner) => warpPattern(car)[corner]);
  const rate = CORNERS.map(
    (corner, i) => car.wheelRates[corner] * Math.exp(logFactors[4 + i] as number),
  );
  const bars = response.bars === 'on' ? [car.barFront, car.barRear] : [0, 0];
  // K is two blocks, one an axle: [[k + b, −b], [−b, k' + b]].
  const inverse = [0, 1].flatMap((axle) => {
    const b = bars[axle] as number;
    const [k1, k2] = [(rate[2 * axle] as number) + b, (rate[2 * axle + 1] as number) + b];
    const [n1, n2] = [n[2 * axle] as number, n[2 * axle + 1] as number];
    const determinant = k1 * k2 - b * b;
    return [(k2 * n1 + b * n2) / determinant, (b * n1 + k1 * n2) / determinant];
  });
  const scale = inverse.reduce((sum, each, i) => sum + each * (n[i] as number), 0);
  return inverse.map((each) => each / scale);
};

/** Newton of warp (at the left front) that one turn up makes at a corner, with its uncertainty. */
export const warpPerTurn = (
  response: TurnResponse,
  corner: (typeof CORNERS)[number],
  effects?: Effects,
): { readonly value: number; readonly u: number } => {
  const turns = perCorner((other) => (other === corner ? 1 : 0));
  const { change, covariance } = predictChange(response, turns, effects);
  // Read at the left front, where the pattern is one.
  return { value: change[0] as number, u: Math.sqrt(Math.max(0, covariance[0] as number)) };
};

/** What is not known of the rates, as uncertainty of the warp read out of a change of loads. */
export const warpDoubt = (response: TurnResponse, change: readonly number[]): number => {
  const STEP = 1e-3;
  const slopes = CORNERS.map((_, j) => {
    const read = (by: number): number =>
      warpWeights(
        response,
        response.logFactors.map((value, i) => (i === 4 + j ? value + by : value)),
      ).reduce((sum, w, i) => sum + w * (change[i] as number), 0);
    return (read(STEP) - read(-STEP)) / (2 * STEP);
  });
  let variance = 0;
  for (let a = 0; a < 4; a += 1)
    for (let b = 0; b < 4; b += 1)
      variance +=
        (slopes[a] as number) *
        (slopes[b] as number) *
        (response.covariance[(4 + a) * 8 + 4 + b] as number);
  return Math.sqrt(Math.max(0, variance));
};
