import type { FourNumbers, Lowering, LoweringScatter } from './repeatabilityLowering.ts';
import { repeatabilityStudy } from './repeatabilityStudy.ts';

/**
 * What laying the patch again adds to the four corner weights, kg². Pads laid a little higher or lower
 * move load along the warp pattern `n` and no other way (see adjust/warp.ts), so one variance says it
 * all; where the study's estimate is not above zero it is nothing. Null where no patch was laid twice.
 */
export const layingScatter = (
  lowerings: readonly Lowering[],
  n: FourNumbers,
): LoweringScatter | null => {
  const size = n.reduce((sum, each) => sum + each ** 2, 0);
  const warp = (weights: FourNumbers): number =>
    weights.reduce((sum, weight, index) => sum + weight * (n[index] as number), 0) / size;
  const outcome = repeatabilityStudy(lowerings, [warp]);
  const found = outcome.ok ? (outcome.study.quantities[0]?.laying ?? null) : null;
  return (
    found && {
      covariance: n.flatMap((one) => n.map((other) => Math.max(0, found.variance) * one * other)),
      dof: Math.max(1, found.dof),
    }
  );
};
