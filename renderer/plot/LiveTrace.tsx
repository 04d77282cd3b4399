import { memo, useCallback, useMemo, useState, type ReactElement } from 'react';
import { CartesianGrid, Line, LineChart, XAxis, YAxis } from 'recharts';
import { fixed } from '../../core/format/number.ts';
import { massFrom, massIn, type MassUnit } from '../../core/units.ts';
import type { FrameLoop } from '../live/frameLoop.ts';
import type { TraceRing } from '../live/traceRing.ts';
import { TICK } from './tick.ts';
import { TraceContext, type TraceDrawing } from './traceContext.ts';
import { TRACE_PLOT } from './traceHover.ts';
import { TracePath } from './TracePath.tsx';
import { createRangeKeeper, rangeAround, type TraceRange } from './traceRange.ts';
import { TRACE_SPAN } from './traceSpan.ts';
import { createTraceWriter } from './traceWriter.ts';

/** Where a trace takes its points from. */
export interface TraceSource {
  readonly ring: TraceRing;
  /** Host monotonic time now, s; null while unknown. */
  readonly hostNow: () => number | null;
}

export interface LiveTraceProps extends TraceSource {
  readonly loop: FrameLoop;
  readonly unit: MassUnit;
  readonly width: number;
  readonly height: number;
}

/** Constant: on every change of `data` the chart would build its curve anew, which takes 24–30 ms. */
const STUB = [
  { t: -TRACE_SPAN, mass: 0 },
  { t: 0, mass: 0 },
];
const TIME_DOMAIN: [number, number] = [-TRACE_SPAN, 0];
const TIME_TICKS = [-20, -15, -10, -5, 0];
const MARGIN = { top: 6, right: TRACE_PLOT.right, bottom: 0, left: 0 };
const AXIS_WIDTH = TRACE_PLOT.left;
/** Charts lower than this have no room for the words of the time axis. */
const LABELLED_HEIGHT = 140;
/** Room for half of the word at its end. */
const LABELLED_MARGIN = { ...MARGIN, right: 18 };

const timeLabel = (t: number): string => (t === 0 ? 'now' : `${fixed(t, 0)} s`);
const drawPath = (): ReactElement => <TracePath />;

interface ChartProps {
  readonly width: number;
  readonly height: number;
  readonly unit: MassUnit;
  readonly range: TraceRange;
}

const Chart = memo(({ width, height, unit, range }: ChartProps): ReactElement => {
  const labelled = height >= LABELLED_HEIGHT;
  const isWhole = range.ticks.every((mass) => Number.isInteger(massIn(unit, mass)));
  const decimals = isWhole || massIn(unit, range.high - range.low) > 20 ? 0 : 1;
  const massLabel = (mass: number): string => fixed(massIn(unit, mass), decimals);
  return (
    <LineChart
      width={width}
      height={height}
      data={STUB}
      margin={labelled ? LABELLED_MARGIN : MARGIN}
      accessibilityLayer={false}
    >
      <CartesianGrid vertical={false} stroke="var(--line)" />
      <XAxis
        type="number"
        dataKey="t"
        domain={TIME_DOMAIN}
        ticks={TIME_TICKS}
        interval={0}
        height={labelled ? 24 : 6}
        tick={labelled ? TICK : false}
        tickFormatter={timeLabel}
        tickSize={4}
        stroke="var(--line)"
        allowDataOverflow
      />
      <YAxis
        type="number"
        width={AXIS_WIDTH}
        domain={[range.low, range.high]}
        ticks={[...range.ticks]}
        interval="preserveStartEnd"
        tick={TICK}
        tickFormatter={massLabel}
        tickLine={false}
        axisLine={false}
        allowDataOverflow
      />
      <Line
        dataKey="mass"
        shape={drawPath}
        isAnimationActive={false}
        dot={false}
        activeDot={false}
        legendType="none"
      />
    </LineChart>
  );
});
Chart.displayName = 'LiveTraceChart';

/** The last 20 s of one corner. React renders it when its size, unit or range changes, not for data. */
export const LiveTrace = ({
  ring,
  hostNow,
  loop,
  unit,
  width,
  height,
}: LiveTraceProps): ReactElement => {
  const perUnit = massFrom(unit, 1);
  const [range, setRange] = useState(() => rangeAround(0, 0, perUnit));
  const show = useCallback((next: TraceRange) => setRange(next), []);
  const drawing = useMemo(
    (): TraceDrawing => ({
      writer: createTraceWriter(ring),
      keeper: createRangeKeeper(perUnit),
      loop,
      hostNow,
      setRange: show,
    }),
    [ring, perUnit, loop, hostNow, show],
  );
  return (
    <TraceContext value={drawing}>
      <Chart width={width} height={height} unit={unit} range={range} />
    </TraceContext>
  );
};
