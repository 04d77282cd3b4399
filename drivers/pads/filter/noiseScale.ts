/**
 * Running noise scale of a stream: the median of the last absolute first differences. Steps and lone
 * spikes do not move it, half the window must change first. For white Gaussian noise it is 0.954 of
 * the standard deviation (0.6745·√2). Keeping it is cheap, asking for the median is not.
 */
export interface NoiseScale {
  /** Takes the absolute difference of two neighbouring samples. */
  push(difference: number): void;
  /** Median of the differences held, in their unit; null while fewer than `enough` came. */
  median(): number | null;
  /** Largest of the `count` differences before the newest one; 0 where there are none. */
  largestBefore(count: number): number;
  restart(): void;
}

/** Makes the scale over the last `size` differences. No allocation after this. */
export const createNoiseScale = (options: {
  readonly size: number;
  readonly enough: number;
}): NoiseScale => {
  const { size, enough } = options;
  const arrived = new Float64Array(size);
  const sorted = new Float64Array(size);
  let held = 0;
  let next = 0;

  return {
    push: (difference) => {
      arrived[next] = difference;
      next = next + 1 === size ? 0 : next + 1;
      if (held < size) held += 1;
    },
    median: () => {
      if (held < enough) return null;
      for (let i = 0; i < held; i += 1) {
        const value = arrived[i] as number;
        let at = i;
        while (at > 0 && (sorted[at - 1] as number) > value) {
          sorted[at] = sorted[at - 1] as number;
          at -= 1;
        }
        sorted[at] = value;
      }
      const middle = held >> 1;
      const high = sorted[middle] as number;
      return held % 2 === 1 ? high : (high + (sorted[middle - 1] as number)) / 2;
    },
    largestBefore: (count) => {
      let most = 0;
      const last = Math.min(count + 1, held);
      for (let back = 2; back <= last; back += 1) {
        const at = next - back;
        const difference = arrived[at < 0 ? at + size : at] as number;
        if (difference > most) most = difference;
      }
      return most;
    },
    restart: () => {
      held = 0;
      next = 0;
    },
  };
};
