/**
 * The batch twin of the trace writer: thins a whole trace at once. The writer, which only adds what is
 * new, must draw the same.
 */

/** A trace to be drawn: entries by absolute cursor, times never falling, NaN values are holes. */
export interface Trace {
  readonly begin: number;
  readonly end: number;
  timeAt(cursor: number): number;
  valueAt(cursor: number): number;
  firstAt(t: number): number;
}

/** Points to draw, reused from frame to frame. A NaN in `y` lifts the pen. */
export interface DecimatedTrace {
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/**
 * Thins a trace to the least and the greatest entry of each bucket, in time order, so that no spike
 * is lost whatever the width of a pixel. Buckets are whole multiples of `bucket` seconds of absolute
 * time: as the window moves on, a bucket keeps its entries and the picture does not shimmer. The
 * bucket in which `from` lies is taken whole. A hole splits its bucket and lifts the pen.
 *
 * Writes into `out` and answers the number of points, never more than the entries from that first
 * bucket to `to`. Throws RangeError when `out` is too short for them or the bucket not above zero.
 */
export const decimate = (
  trace: Trace,
  window: { readonly from: number; readonly to: number; readonly bucket: number },
  out: DecimatedTrace,
): number => {
  const { from, to, bucket } = window;
  if (!(bucket > 0)) throw new RangeError(`not a bucket: ${bucket} s`);
  const { x, y } = out;
  let points = 0;
  let current = NaN;
  let held = 0;
  let lowT = 0;
  let low = 0;
  let highT = 0;
  let high = 0;

  const put = (t: number, value: number): void => {
    if (points >= x.length || points >= y.length)
      throw new RangeError(`more than ${Math.min(x.length, y.length)} points to draw`);
    x[points] = t;
    y[points] = value;
    points += 1;
  };
  const close = (): void => {
    if (held === 0) return;
    if (low === high) {
      put(lowT, low);
      // A flat bucket still reaches from its first to its last entry.
      if (highT > lowT) put(highT, high);
    } else if (lowT <= highT) {
      put(lowT, low);
      put(highT, high);
    } else {
      put(highT, high);
      put(lowT, low);
    }
    held = 0;
  };

  for (
    let cursor = trace.firstAt(Math.floor(from / bucket) * bucket);
    cursor < trace.end;
    cursor += 1
  ) {
    const t = trace.timeAt(cursor);
    if (t > to) break;
    const value = trace.valueAt(cursor);
    const at = Math.floor(t / bucket);
    if (at !== current) {
      close();
      current = at;
    }
    if (!Number.isFinite(value)) {
      close();
      put(t, NaN);
    } else if (held === 0) {
      lowT = t;
      low = value;
      highT = t;
      high = value;
      held = 1;
    } else {
      if (value < low) {
        low = value;
        lowT = t;
      }
      if (value > high || (value === high && low === high)) {
        high = value;
        highT = t;
      }
      held += 1;
    }
  }
  close();
  return points;
};
