import { useContext, useLayoutEffect, useRef, type ReactElement } from 'react';
import { usePlotArea, useXAxisScale, useYAxisScale } from 'recharts';
import { countTraceCommit } from './commits.ts';
import { TraceContext } from './traceContext.ts';
import type { TraceRange } from './traceRange.ts';
import { TRACE_SPAN } from './traceSpan.ts';

/**
 * The line of a live trace: one path whose `d` the shared frame loop writes from the ring. The chart
 * gives it its scales and is not asked again until they change.
 */
export const TracePath = (): ReactElement | null => {
  const drawing = useContext(TraceContext);
  const path = useRef<SVGPathElement>(null);
  const xScale = useXAxisScale();
  const yScale = useYAxisScale();
  const area = usePlotArea();
  const { x = 0, y = 0, width = 0, height = 0 } = area ?? {};

  useLayoutEffect(() => {
    if (!drawing || !xScale || !yScale || !(width > 0)) return undefined;
    const { writer, keeper, loop, hostNow, setRange } = drawing;
    const start = Number(xScale(-TRACE_SPAN));
    const end = Number(xScale(0));
    const atZero = Number(yScale(0));
    const atOne = Number(yScale(1));
    const pixelRatio = window.devicePixelRatio || 1;
    const pixelsPerSecond = (end - start) / TRACE_SPAN;
    writer.rescale({
      span: TRACE_SPAN,
      pixelsPerSecond,
      column: 1 / (pixelsPerSecond * pixelRatio),
      offset: atZero - y,
      slope: atOne - atZero,
    });
    let d: string | null = null;
    let shift: number | null = null;
    let range: TraceRange | null = null;
    return loop.add((now) => {
      const element = path.current;
      const hostTime = hostNow();
      if (!element || hostTime === null) return;
      const drawn = writer.write(hostTime);
      if (!drawn) return;
      // Whole device pixels, so that a column looks the same wherever it stands.
      const exact = end - x + (drawn.anchor - hostTime) * pixelsPerSecond;
      const nextShift = Math.round(exact * pixelRatio) / pixelRatio;
      const isNew = drawn.d !== d;
      if (isNew) {
        d = drawn.d;
        element.setAttribute('d', d);
      }
      const isMoved = nextShift !== shift;
      if (isMoved) {
        shift = nextShift;
        element.setAttribute('transform', `translate(${shift} 0)`);
      }
      if (isNew || isMoved) countTraceCommit();
      const wanted = keeper.judge(drawn.low, drawn.high, now);
      if (wanted === range) return;
      range = wanted;
      setRange(wanted);
    });
  }, [drawing, xScale, yScale, x, y, width, height]);

  if (!area) return null;
  return (
    <svg x={x} y={y} width={width} height={height} overflow="hidden">
      <path
        ref={path}
        className="trace-line"
        fill="none"
        stroke="currentColor"
        strokeWidth={1.5}
        // Round joins cost a machine without a GPU a quarter of its frames (44 against 60 a second).
        strokeLinejoin="bevel"
      />
    </svg>
  );
};
