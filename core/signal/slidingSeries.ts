/**
 * The newest entries of a series, always in one piece: each is written twice, a capacity apart, so that
 * any window of them can be read straight through without copying or wrapping.
 */
export interface SlidingSeries {
  readonly capacity: number;
  /** Absolute cursors of the oldest entry held and of the next to come. */
  readonly begin: number;
  readonly end: number;
  readonly times: Float64Array;
  readonly values: Float64Array;
  push(t: number, value: number): void;
  /** Index in the arrays from which the entries from an absolute cursor to the end lie in a row. */
  startOf(cursor: number): number;
}

/** Makes one that holds `capacity` entries. */
export const createSlidingSeries = (capacity: number): SlidingSeries => {
  const times = new Float64Array(2 * capacity);
  const values = new Float64Array(2 * capacity);
  let end = 0;
  let slot = 0;
  return {
    capacity,
    get begin() {
      return Math.max(0, end - capacity);
    },
    get end() {
      return end;
    },
    times,
    values,
    push: (t, value) => {
      times[slot] = t;
      times[slot + capacity] = t;
      values[slot] = value;
      values[slot + capacity] = value;
      slot = slot + 1 === capacity ? 0 : slot + 1;
      end += 1;
    },
    startOf: (cursor) => cursor % capacity,
  };
};
