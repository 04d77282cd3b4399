/** Seeded noise for the tests of the signal path: never Math.random, so that a failure comes again. */
export interface Noise {
  /** Uniform over [0, 1). */
  uniform(): number;
  /** Standard normal. */
  normal(): number;
}

/** Makes a source of noise: mulberry32, and Box–Muller on top of it. */
export const createNoise = (seed: number): Noise => {
  let state = seed | 0;
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
  return {
    uniform,
    normal: () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform()),
  };
};

/** First-order autoregressive noise with unit innovations, begun in its steady state. */
export const autoregressive = (
  noise: Noise,
  options: { readonly rho: number; readonly count: number },
): number[] => {
  const { rho, count } = options;
  let value = noise.normal() / Math.sqrt(1 - rho * rho);
  return Array.from({ length: count }, () => {
    const now = value;
    value = rho * value + noise.normal();
    return now;
  });
};
