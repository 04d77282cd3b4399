import { createContext } from 'react';
import type { FrameLoop } from '../live/frameLoop.ts';
import type { RangeKeeper, TraceRange } from './traceRange.ts';
import type { TraceWriter } from './traceWriter.ts';

/** What the path inside a chart needs; a chart cannot hand it down as a prop. */
export interface TraceDrawing {
  readonly writer: TraceWriter;
  readonly keeper: RangeKeeper;
  readonly loop: FrameLoop;
  readonly hostNow: () => number | null;
  readonly setRange: (range: TraceRange) => void;
}

export const TraceContext = createContext<TraceDrawing | null>(null);
