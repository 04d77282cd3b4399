import { inOrder } from '../corners.ts';
import { warpPattern } from '../adjust/warp.ts';
import type { Car } from '../sheet/car.ts';
import type { LoweringScatter } from './repeatabilityLowering.ts';

/**
 * How far lowerings of an unchanged car may lie from their mean, kg: at the left front along the warp,
 * where friction of struts and slip plates hides, and at each corner by itself. Common practice, no
 * source; wide on purpose, so that what it calls moved has moved.
 */
export const COMMON_ALONG_WARP = 2;
const COMMON_EACH = 0.5;

/**
 * What stands for the scatter of lowering while nobody has studied this car: limits, taken as
 * rectangular and known (JCGM 100:2008, 4.3.7 and G.4.3). Never to be shown as this car's own.
 */
export const commonLowering = (car: Car): LoweringScatter => {
  const n = inOrder(warpPattern(car));
  const [along, each] = [COMMON_ALONG_WARP ** 2 / 3, COMMON_EACH ** 2 / 3];
  return {
    covariance: n.flatMap((one, i) =>
      n.map((other, j) => along * one * other + (i === j ? each : 0)),
    ),
    dof: Infinity,
  };
};
