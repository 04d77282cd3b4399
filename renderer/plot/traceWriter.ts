import type { TraceRing } from '../live/traceRing.ts';

/**
 * Makes the `d` of a live trace from a ring. One column of device pixels keeps the smallest and the
 * largest of its samples, in time order, so no spike is lost; the columns' edges are whole multiples
 * of their width in absolute time, so a sample never changes its column and nothing shimmers. What
 * is drawn once is kept as text and only joined: the work of a frame is that of its new samples.
 */

export interface TraceScale {
  /** Seconds shown. */
  readonly span: number;
  readonly pixelsPerSecond: number;
  /** Width of one column of device pixels, s. */
  readonly column: number;
  /** y = offset + slope × kg. */
  readonly offset: number;
  readonly slope: number;
}

export interface TraceDrawn {
  readonly d: string;
  /** Time that stands at x = 0 of `d`, s. */
  readonly anchor: number;
  /** Smallest and largest mass drawn, kg; NaN where nothing is. */
  readonly low: number;
  readonly high: number;
}

export interface TraceWriter {
  /** Takes a new scale: all is drawn again. */
  rescale(scale: TraceScale): void;
  /** What to draw at host time `now`; the same object when nothing changed. Null before a scale. */
  write(now: number): TraceDrawn | null;
}

/** Columns in one kept piece of text. */
const PIECE = 48;
/** A line is never drawn over a longer silence than this, s, whether or not a hole was reported. */
const LONGEST_STEP = 0.5;
/** Seconds after which x is counted anew, so that its digits stay few. */
const REANCHOR = 600;

interface Piece {
  text: string;
  end: number;
  low: number;
  high: number;
  columns: number;
}

const emptyPiece = (): Piece => ({ text: '', end: 0, low: Infinity, high: -Infinity, columns: 0 });

/** Makes a writer over a ring. */
export const createTraceWriter = (ring: TraceRing): TraceWriter => {
  let scale: TraceScale | null = null;
  let pieces: Piece[] = [];
  let piece = emptyPiece();
  let position = 0;
  let epoch = ring.epoch();
  let anchor = 0;
  let penDown = false;
  let lastTime = -Infinity;
  let drawn: TraceDrawn | null = null;
  // The open column.
  let column = Number.NaN;
  let minTime = 0;
  let minMass = 0;
  let maxTime = 0;
  let maxMass = 0;
  let tipMass = 0;

  const point = (to: TraceScale, t: number, mass: number, down: boolean): string => {
    const x = Math.round((t - anchor) * to.pixelsPerSecond * 10) / 10;
    const y = Math.round((to.offset + to.slope * mass) * 10) / 10;
    return `${down ? 'L' : 'M'}${x} ${y}`;
  };
  const columnText = (to: TraceScale): string => {
    if (Number.isNaN(column)) return '';
    if (minTime === maxTime) {
      const only = point(to, minTime, minMass, penDown);
      // A lone sample between two holes is drawn as a dot: a move alone would not be seen.
      return penDown ? only : `${only}h0.1`;
    }
    return minTime < maxTime
      ? point(to, minTime, minMass, penDown) + point(to, maxTime, maxMass, true)
      : point(to, maxTime, maxMass, penDown) + point(to, minTime, minMass, true);
  };
  /** The open column ends at the newest sample, so that each is seen as it comes. */
  const openText = (to: TraceScale): string => {
    const text = columnText(to);
    if (text === '' || lastTime <= Math.max(minTime, maxTime)) return text;
    return text + point(to, lastTime, tipMass, true);
  };
  const closeColumn = (to: TraceScale): void => {
    if (Number.isNaN(column)) return;
    piece.text += columnText(to);
    piece.low = Math.min(piece.low, minMass);
    piece.high = Math.max(piece.high, maxMass);
    piece.end = Math.max(minTime, maxTime);
    piece.columns += 1;
    penDown = true;
    column = Number.NaN;
    if (piece.columns < PIECE) return;
    pieces.push(piece);
    piece = emptyPiece();
  };
  const liftPen = (to: TraceScale): void => {
    closeColumn(to);
    penDown = false;
  };
  const take = (to: TraceScale, t: number, mass: number): void => {
    if (Number.isNaN(mass)) {
      liftPen(to);
      return;
    }
    if (t - lastTime > LONGEST_STEP) liftPen(to);
    lastTime = t;
    tipMass = mass;
    const index = Math.floor(t / to.column);
    if (index !== column) {
      closeColumn(to);
      column = index;
      minTime = maxTime = t;
      minMass = maxMass = mass;
      return;
    }
    if (mass < minMass) {
      minMass = mass;
      minTime = t;
    }
    // A flat column still reaches to its last sample.
    if (mass > maxMass || (mass === maxMass && minMass === maxMass)) {
      maxMass = mass;
      maxTime = t;
    }
  };
  const restart = (now: number): void => {
    pieces = [];
    piece = emptyPiece();
    column = Number.NaN;
    penDown = false;
    lastTime = -Infinity;
    anchor = Math.floor(now);
    position = ring.oldest();
    epoch = ring.epoch();
    drawn = null;
  };
  const joined = (to: TraceScale): TraceDrawn => {
    let text = '';
    let low = piece.low;
    let high = piece.high;
    for (const kept of pieces) {
      text += kept.text;
      low = Math.min(low, kept.low);
      high = Math.max(high, kept.high);
    }
    text += piece.text + openText(to);
    if (!Number.isNaN(column)) {
      low = Math.min(low, minMass);
      high = Math.max(high, maxMass);
    }
    const some = low <= high;
    return {
      // The first piece that is left may begin in the middle of a line.
      d: text === '' ? '' : `M${text.slice(1)}`,
      anchor,
      low: some ? low : Number.NaN,
      high: some ? high : Number.NaN,
    };
  };

  return {
    rescale: (next) => {
      scale = next;
      drawn = null;
      anchor = -Infinity;
    },
    write: (now) => {
      if (!scale) return null;
      const from = now - scale.span;
      const lapped = ring.epoch() !== epoch || position < ring.oldest();
      if (lapped || !(now - anchor < REANCHOR) || now < anchor - 1) restart(now);
      let changed = drawn === null;
      const end = ring.written();
      for (; position < end; position += 1) {
        const t = ring.timeAt(position);
        if (t < from) continue;
        take(scale, t, ring.massAt(position));
        changed = true;
      }
      while (pieces[0] && pieces[0].end < from) {
        pieces.shift();
        changed = true;
      }
      if (changed || !drawn) drawn = joined(scale);
      return drawn;
    },
  };
};
