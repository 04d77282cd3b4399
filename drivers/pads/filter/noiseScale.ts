/**
 * Running noise scale of a stream: the median of the last absolute first differences. Steps and lone
 * spikes do not move it, half the window must change first. For white Gaussian noise it is 0.954 of
 * the standard deviation (0.6745·√2).
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

/** Makes the scale over the last `size` differences (odd). No allocation after this. */
export const createNoiseScale = (options: {
  readonly size: number;
  readonly enough: number;
}): NoiseScale => {
  const { size, enough } = options;
  const arrived = new Float64Array(size);
  const sorted = new Float64Array(size);
  let held = 0;
  let next = 0;

  const remove = (value: number): void => {
    let at = 0;
    while (at < held - 1 && (sorted[at] as number) < value) at += 1;
    for (; at < held - 1; at += 1) sorted[at] = sorted[at + 1] as number;
    held -= 1;
  };
  const insert = (value: number): void => {
    let at = held;
    while (at > 0 && (sorted[at - 1] as number) > value) {
      sorted[at] = sorted[at - 1] as number;
      at -= 1;
    }
    sorted[at] = value;
    held += 1;
  };

  return {
    push: (difference) => {
      if (held === size) remove(arrived[next] as number);
      insert(difference);
      arrived[next] = difference;
      next = (next + 1) % size;
    },
    median: () => {
      if (held < enough) return null;
      const middle = held >> 1;
      const high = sorted[middle] as number;
      return held % 2 === 1 ? high : (high + (sorted[middle - 1] as number)) / 2;
    },
    largestBefore: (count) => {
      let most = 0;
      for (let back = 2; back <= Math.min(count + 1, held); back += 1)
        most = Math.max(most, arrived[(next - back + size) % size] as number);
      return most;
    },
    restart: () => {
      held = 0;
      next = 0;
    },
  };
};
