/** The noise of a pad that stands still, kept while it moves: what a fit's residuals are held against. */
export interface QuietNoise {
  push(t: number, force: number): void;
  /** Forgets the block that is open: what comes next is on another scale. */
  drop(): void;
  /** Variance of a sample, N², and its degrees of freedom; NaN and 0 before the first block. */
  readonly variance: number;
  readonly dof: number;
}

/** Length of a block, s, and the fewest samples in it: a line and enough beside it. */
const BLOCK = 0.5;
const FEWEST = 5;
/** A block with more than so many times the known variance moved; one with less than this share is the still one. */
const MOVED = 3;
const STILLER = 0.4;
/** So many blocks refused in a row are no motion: the noise itself has grown, and is learned anew. */
const MOST_REFUSED = 40;
/** Memory, in degrees of freedom: some ten seconds of 80 Hz. */
const MOST_DOF = 400;

/**
 * Learns it from the scatter of half-second blocks about their own lines. Blocks that scatter much more
 * than the stillest so far moved and are left out; one that scatters much less begins it anew.
 */
export const createQuietNoise = (): QuietNoise => {
  const state = { variance: NaN, dof: 0 };
  let refused = 0;
  let n = 0;
  let from = 0;
  let level = 0;
  let sumT = 0;
  let sumX = 0;
  let sumTT = 0;
  let sumTX = 0;
  let sumXX = 0;

  const drop = (): void => {
    n = 0;
    sumT = sumX = sumTT = sumTX = sumXX = 0;
  };

  const close = (): void => {
    if (n >= FEWEST) {
      const tt = sumTT - (sumT * sumT) / n;
      const tx = sumTX - (sumT * sumX) / n;
      const xx = sumXX - (sumX * sumX) / n;
      const dof = n - 2;
      const variance = Math.max(0, xx - (tt > 0 ? (tx * tx) / tt : 0)) / dof;
      const isAnew = state.dof === 0 || refused >= MOST_REFUSED;
      refused += 1;
      // A block without scatter is a converter that shows the same step, not a pad without noise.
      if (variance > 0 && (isAnew || variance < STILLER * state.variance)) {
        state.variance = variance;
        state.dof = dof;
        refused = 0;
      } else if (variance > 0 && variance <= MOVED * state.variance) {
        state.variance = (state.variance * state.dof + variance * dof) / (state.dof + dof);
        state.dof = Math.min(MOST_DOF, state.dof + dof);
        refused = 0;
      }
    }
    drop();
  };

  return {
    get variance() {
      return state.variance;
    },
    get dof() {
      return state.dof;
    },
    drop,
    push: (t, force) => {
      if (n > 0 && t - from > BLOCK) close();
      if (n === 0) {
        from = t;
        level = force;
      }
      const dt = t - from;
      const x = force - level;
      n += 1;
      sumT += dt;
      sumX += x;
      sumTT += dt * dt;
      sumTX += dt * x;
      sumXX += x * x;
    },
  };
};
