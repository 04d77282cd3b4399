/**
 * Seeded chance, for the rig and for jitter: not for secrets. xoshiro128** 1.1 (Blackman & Vigna, "Scrambled linear pseudorandom number
 * generators", ACM TOMS 47 (2021) 36; reference code in the public domain, prng.di.unimi.it), its
 * state filled by SplitMix32 as its authors advise. The same seed gives the same day, everywhere.
 */
export interface Random {
  /** Uniform in [0, 1), 32 bits. */
  uniform(): number;
  between(low: number, high: number): number;
  /** Standard normal deviate: the polar method (Marsaglia & Bray, SIAM Review 6 (1964) 260). */
  normal(): number;
}

const rotl = (x: number, k: number): number => (x << k) | (x >>> (32 - k));

/** The bare generator: 32-bit unsigned words from a state of four words, not all zero. */
export const createXoshiro128 = (
  state: readonly [number, number, number, number],
): (() => number) => {
  const s = Int32Array.from(state);
  if (s.every((word) => word === 0)) throw new RangeError('the state must not be all zero');
  return () => {
    const s1 = s[1] as number;
    const s2 = (s[2] as number) ^ (s[0] as number);
    const s3 = (s[3] as number) ^ s1;
    s[0] = (s[0] as number) ^ s3;
    s[1] = s1 ^ s2;
    s[2] = s2 ^ (s1 << 9);
    s[3] = rotl(s3, 11);
    return Math.imul(rotl(Math.imul(s1, 5), 7), 9) >>> 0;
  };
};

const createSplitMix32 = (seed: number): (() => number) => {
  let state = seed | 0;
  return () => {
    state = (state + 0x9e3779b9) | 0;
    let z = Math.imul(state ^ (state >>> 16), 0x21f0aaad);
    z = Math.imul(z ^ (z >>> 15), 0x735a2d97);
    return z ^ (z >>> 15);
  };
};

/** A generator for one purpose: the same seed with another `stream` is an unrelated sequence. */
export const createRandom = (seed: number, stream = 0): Random => {
  if (!Number.isInteger(seed) || !Number.isInteger(stream))
    throw new RangeError(`a seed is a whole number: ${seed}, ${stream}`);
  const fill = createSplitMix32(Math.imul(seed, 0x9e3779b1) ^ Math.imul(stream + 1, 0x85ebca77));
  const next = createXoshiro128([fill(), fill(), fill(), fill() | 1]);
  const uniform = (): number => next() / 0x1_0000_0000;

  let spare: number | null = null;
  return {
    uniform,
    between: (low, high) => low + (high - low) * uniform(),
    normal: () => {
      if (spare !== null) {
        const kept = spare;
        spare = null;
        return kept;
      }
      for (;;) {
        const u = 2 * uniform() - 1;
        const v = 2 * uniform() - 1;
        const r = u * u + v * v;
        if (r === 0 || r >= 1) continue;
        const scale = Math.sqrt((-2 * Math.log(r)) / r);
        spare = v * scale;
        return u * scale;
      }
    },
  };
};
