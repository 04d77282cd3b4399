/**
 * A fixed ring of samples: typed columns, an absolute cursor, no allocation when writing. Readers
 * keep a cursor of their own and ask for what is new, or learn that they were lapped. A hole in the
 * stream is an entry too, NaN in every column but `t`, so that nobody bridges it by accident.
 */

/** Absolute cursors: the entries from `from` up to, not including, `to`. */
export interface RingPart {
  readonly from: number;
  readonly to: number;
}

/** One column of a ring, as readers of a single stream see it. */
export interface RingColumn {
  readonly begin: number;
  readonly end: number;
  timeAt(cursor: number): number;
  valueAt(cursor: number): number;
  firstAt(t: number): number;
}

export interface Ring<C extends string> {
  readonly capacity: number;
  /** Cursor of the oldest entry that is still there. */
  readonly begin: number;
  /** Cursor of the next entry to come: the number of entries ever written. */
  readonly end: number;
  /** Writes one entry; what is not finite in a column is a hole in it. */
  push(entry: Readonly<Record<C | 't', number>>): void;
  /** Writes a hole at time `t`: nothing is known from there to the next entry. */
  pushHole(t: number): void;
  /** What came since the cursor; 'lapped' when some of it has been overwritten. */
  since(cursor: number): RingPart | 'lapped';
  /** Time of the entry at an absolute cursor; NaN where there is none (any more). */
  timeAt(cursor: number): number;
  /** Value at an absolute cursor; NaN in a hole and where there is no entry (any more). */
  valueAt(column: C, cursor: number): number;
  /** Cursor of the first entry at or after time `t`; `end` where all are older. Times never fall. */
  firstAt(t: number): number;
  /** Copies a column (or the times) of a part into `out` from its start; answers how many. */
  copy(column: C | 't', part: RingPart, out: Float64Array): number;
  /** A view of one column; it stays with the ring. */
  column(column: C): RingColumn;
  /** Forgets every entry; cursors go on, so readers see that they were lapped. */
  clear(): void;
}

/** Makes a ring. Throws RangeError when the capacity is not a whole number above zero. */
export const createRing = <const C extends string>(options: {
  readonly capacity: number;
  readonly columns: readonly C[];
}): Ring<C> => {
  const { capacity, columns } = options;
  if (!Number.isInteger(capacity) || capacity < 1)
    throw new RangeError(`not a capacity: ${capacity}`);
  const times = new Float64Array(capacity);
  const stores = columns.map(() => new Float64Array(capacity));
  const [store0, store1, store2, store3] = stores;
  let begin = 0;
  let end = 0;

  const storeOf = (column: C | 't'): Float64Array => {
    const store = column === 't' ? times : stores[columns.indexOf(column)];
    if (!store) throw new RangeError(`the ring has no column ${column}`);
    return store;
  };
  const advance = (): void => {
    end += 1;
    if (end - begin > capacity) begin = end - capacity;
  };
  const holds = (cursor: number): boolean => cursor >= begin && cursor < end;

  const timeAt = (cursor: number): number =>
    holds(cursor) ? (times[cursor % capacity] as number) : NaN;
  const firstAt = (t: number): number => {
    let low = begin;
    let high = end;
    while (low < high) {
      const middle = Math.floor((low + high) / 2);
      if ((times[middle % capacity] as number) < t) low = middle + 1;
      else high = middle;
    }
    return low;
  };

  return {
    capacity,
    get begin() {
      return begin;
    },
    get end() {
      return end;
    },
    push: (entry) => {
      const slot = end % capacity;
      times[slot] = entry.t;
      // Each of the first columns has a line of its own: a look-up that always asks for the same name
      // costs a third of one that asks for several.
      if (store0) store0[slot] = entry[columns[0] as C];
      if (store1) store1[slot] = entry[columns[1] as C];
      if (store2) store2[slot] = entry[columns[2] as C];
      if (store3) store3[slot] = entry[columns[3] as C];
      for (let index = 4; index < stores.length; index += 1)
        (stores[index] as Float64Array)[slot] = entry[columns[index] as C];
      advance();
    },
    pushHole: (t) => {
      const slot = end % capacity;
      times[slot] = t;
      for (const store of stores) store[slot] = NaN;
      advance();
    },
    since: (cursor) => (cursor < begin ? 'lapped' : { from: Math.min(cursor, end), to: end }),
    timeAt,
    valueAt: (column, cursor) =>
      holds(cursor) ? (storeOf(column)[cursor % capacity] as number) : NaN,
    firstAt,
    column: (column) => {
      const store = storeOf(column);
      return {
        get begin() {
          return begin;
        },
        get end() {
          return end;
        },
        timeAt,
        valueAt: (cursor) => (holds(cursor) ? (store[cursor % capacity] as number) : NaN),
        firstAt,
      };
    },
    copy: (column, part, out) => {
      const store = storeOf(column);
      const from = Math.max(part.from, begin);
      const count = Math.min(part.to, end) - from;
      if (count <= 0) return 0;
      if (out.length < count) throw new RangeError(`${count} entries do not fit ${out.length}`);
      const first = from % capacity;
      const straight = Math.min(count, capacity - first);
      out.set(store.subarray(first, first + straight), 0);
      if (straight < count) out.set(store.subarray(0, count - straight), straight);
      return count;
    },
    clear: () => {
      begin = end + 1;
      end = begin;
    },
  };
};
