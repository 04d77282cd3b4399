import type { JointFit } from './jointFit.ts';
import { FUNCTIONS, loadAt, SHAPES } from './modalBasis.ts';
import type { PadTrack } from './padTrack.ts';

/** Watches for the moment at which the loads leave what the last good fit expected of them. */
export interface Events {
  /** Keeps what a good fit expects from now on; `u` is its largest standard uncertainty, N. */
  learn(fit: JointFit, from: number, u: number): void;
  /**
   * Time of the first sample since then that is far off, s; null where there is none or nothing is
   * expected.
   */
  since(tracks: readonly PadTrack[]): number | null;
  forget(): void;
}

/** Standard deviations of noise, and standard uncertainties, by which a sample is far off. */
const FAR = 8;
const FAR_OF_FIT = 6;

/** Makes one that expects nothing. */
export const createEvents = (): Events => {
  const shape = new Float64Array(SHAPES);
  const coefficients = new Float64Array(4 * FUNCTIONS);
  const levels = new Float64Array(4);
  const noises = new Float64Array(4);
  const known = new Float64Array(4);
  let from = NaN;
  let u = 0;

  const expected = (pad: number, t: number): number =>
    (levels[pad] as number) + loadAt(t, shape, coefficients, pad * FUNCTIONS);

  return {
    learn: (fit, begin, worst) => {
      from = begin;
      u = worst;
      shape.set(fit.shape);
      coefficients.set(fit.coefficients);
      fit.pads.forEach(({ level, noise, times, count }, pad) => {
        levels[pad] = level;
        noises[pad] = noise;
        known[pad] = begin + (times[count - 1] as number);
      });
    },
    since: (tracks) => {
      if (Number.isNaN(from)) return null;
      let first = Infinity;
      tracks.forEach((track, pad) => {
        const limit = FAR * (noises[pad] as number) + FAR_OF_FIT * u;
        track.eachAfter((known[pad] as number) + 0.002, (t, force) => {
          const isFar = Math.abs(force - expected(pad, t - from)) > limit;
          if (isFar) first = Math.min(first, t);
          return !isFar;
        });
      });
      return Number.isFinite(first) ? first - 0.001 : null;
    },
    forget: () => {
      from = NaN;
    },
  };
};
