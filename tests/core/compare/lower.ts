import type { FourNumbers, Lowering } from '../../../core/compare/repeatabilityLowering.ts';
import type { Noise } from '../signal/noise.ts';

/** Heron R2's warp pattern: (1, −1, −t_f/t_r, t_f/t_r), tracks 1.680 and 1.650 m. */
export const HERON_PATTERN: FourNumbers = [1, -1, -1.68 / 1.65, 1.68 / 1.65];
export const HERON_WEIGHTS: FourNumbers = [312.411, 307.464, 344.789, 340.336];

export interface Truth {
  readonly biases: Readonly<Record<string, number>>;
  /** Standard deviations, kg: own noise of a corner, warp of a lowering, of a laying, of a person. */
  readonly own: number;
  readonly warp: number;
  readonly laying: number;
  readonly person: number;
}

/** One laying of the patch with its warp, and the persons' habits on it. */
export const lowerOnce = (
  noise: Noise,
  truth: Truth,
  at: { pads: Lowering['pads']; person: string; laying: string; relaid: number },
): Lowering => {
  const warp = at.relaid + truth.warp * noise.normal();
  const weight = (k: 0 | 1 | 2 | 3): number =>
    HERON_WEIGHTS[k] +
    (truth.biases[at.pads[k]] ?? 0) +
    HERON_PATTERN[k] * warp +
    truth.own * noise.normal();
  const { pads, person, laying } = at;
  return { pads, person, laying, weights: [weight(0), weight(1), weight(2), weight(3)] };
};
