import type { TraceRing } from '../live/traceRing.ts';
import { TRACE_SPAN } from './traceSpan.ts';

/**
 * Where the plot lies within a low trace (as in a corner block) of a given width, CSS pixels: axis at
 * the left, air at the right.
 */
export const TRACE_PLOT = { left: 40, right: 2 } as const;

export interface TraceReading {
  /** x of the reading, CSS pixels from the trace's left. */
  readonly x: number;
  /** Seconds before now. */
  readonly ago: number;
  /** kg; null where there is a hole. */
  readonly mass: number | null;
}

/** A reading is only given where a sample lies this near to the pointer, s. */
const NEAR = 0.25;

/** The sample nearest to a place on the trace; null outside the plot or before the first sample. */
export const readTraceAt = (
  ring: TraceRing,
  now: number,
  x: number,
  width: number,
): TraceReading | null => {
  const plotWidth = width - TRACE_PLOT.left - TRACE_PLOT.right;
  if (!(plotWidth > 0) || x < TRACE_PLOT.left || x > width - TRACE_PLOT.right) return null;
  const wanted = now - TRACE_SPAN * (1 - (x - TRACE_PLOT.left) / plotWidth);
  let from = ring.oldest();
  let to = ring.written() - 1;
  if (to < from) return null;
  while (from < to) {
    const middle = Math.floor((from + to) / 2);
    if (ring.timeAt(middle) < wanted) from = middle + 1;
    else to = middle;
  }
  const before = Math.max(ring.oldest(), from - 1);
  const nearest =
    Math.abs(ring.timeAt(before) - wanted) < Math.abs(ring.timeAt(from) - wanted) ? before : from;
  const mass = ring.massAt(nearest);
  const near = Math.abs(ring.timeAt(nearest) - wanted) <= NEAR;
  return { x, ago: now - wanted, mass: near && !Number.isNaN(mass) ? mass : null };
};
