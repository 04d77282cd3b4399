/**
 * The newest readings of one corner in fixed memory. Positions count up for ever; a reader keeps its
 * own and asks for what came since, or learns that it was lapped. A hole is a NaN among the masses:
 * it breaks the line and is never a number.
 */
export interface TraceRing {
  readonly capacity: number;
  /** Position after the newest point: the number of points ever written. */
  written(): number;
  /** Oldest position that is still there. */
  oldest(): number;
  /** Goes up when everything was forgotten; positions of before then mean nothing. */
  epoch(): number;
  /** Time of a point, s of the host's monotonic clock. The position must be there. */
  timeAt(position: number): number;
  /** Corner weight, kg; NaN is a hole. */
  massAt(position: number): number;
  /** Adds a point; one that is not younger than the newest is left out. Null is a hole, which may begin at the newest point's time. */
  append(t: number, mass: number | null): void;
  clear(): void;
}

/** Makes a ring for a power of two of points. Throws RangeError for another capacity. */
export const createTraceRing = (capacity: number): TraceRing => {
  if (!(capacity > 0) || (capacity & (capacity - 1)) !== 0)
    throw new RangeError(`not a power of two: ${capacity}`);
  const times = new Float64Array(capacity);
  const masses = new Float32Array(capacity);
  const mask = capacity - 1;
  let written = 0;
  let epoch = 0;
  let newest = -Infinity;
  return {
    capacity,
    written: () => written,
    oldest: () => Math.max(0, written - capacity),
    epoch: () => epoch,
    timeAt: (position) => times[position & mask] ?? Number.NaN,
    massAt: (position) => masses[position & mask] ?? Number.NaN,
    append: (t, mass) => {
      // A hole begins at the very time of the last point before it.
      if (!(t > newest) && !(mass === null && t === newest)) return;
      times[written & mask] = t;
      masses[written & mask] = mass ?? Number.NaN;
      newest = t;
      written += 1;
    },
    clear: () => {
      written = 0;
      newest = -Infinity;
      epoch += 1;
    },
  };
};
