import type { ReactElement } from 'react';
import {
  CartesianGrid,
  ReferenceArea,
  ReferenceLine,
  Scatter,
  ScatterChart,
  XAxis,
  YAxis,
} from 'recharts';
import { TICK } from './tick.ts';

export interface DifferencePlotProps {
  /** Pairs in events, in order; values in the unit shown. */
  readonly events: readonly {
    readonly name: string;
    readonly differences: readonly { readonly value: number; readonly isOutlier: boolean }[];
    readonly mean: number;
  }[];
  /** Interval of the next difference; null where it is not predicted. */
  readonly next: { readonly low: number; readonly high: number; readonly value: number } | null;
  readonly label: (value: number) => string;
  readonly width: number;
  readonly height: number;
}

const MARGIN = { top: 10, right: 14, bottom: 0, left: 0 };
/** Room above and below what is drawn, as a share of its reach. */
const ROOM = 0.12;
/** Half length of the mark of an event's mean. */
const MEAN = 0.28;
/** Names longer than this run into each other. */
const LETTERS = 14;

interface Mark {
  readonly cx?: number | undefined;
  readonly cy?: number | undefined;
  readonly payload?: { readonly isOutlier?: boolean };
}

const mark = ({ cx = 0, cy = 0, payload }: Mark): ReactElement =>
  payload?.isOutlier ? (
    <path d={`M${cx} ${cy - 6}l6 10h-12z`} fill="var(--alarm)" stroke="var(--paper)" />
  ) : (
    <circle cx={cx} cy={cy} r={4} fill="var(--trace)" stroke="var(--paper)" />
  );

/**
 * Theirs less ours over the events: a dot for each pair, a bar for the mean of an event, and behind them
 * the interval that holds the next one. An outlier is a triangle.
 */
export const DifferencePlot = ({
  events,
  next,
  label,
  width,
  height,
}: DifferencePlotProps): ReactElement => {
  const points = events.flatMap(({ differences }, index) =>
    differences.map(({ value, isOutlier }) => ({ no: index + 1, value, isOutlier })),
  );
  const all = [0, ...points.map(({ value }) => value), ...(next ? [next.low, next.high] : [])];
  const [low, high] = [Math.min(...all), Math.max(...all)];
  const room = ROOM * Math.max(high - low, Number.MIN_VALUE);
  return (
    <ScatterChart width={width} height={height} margin={MARGIN} accessibilityLayer={false}>
      <CartesianGrid vertical={false} stroke="var(--line)" />
      <XAxis
        type="number"
        dataKey="no"
        domain={[0.4, events.length + 0.6]}
        ticks={events.map((_, index) => index + 1)}
        tickFormatter={(no: number) => events[no - 1]?.name.slice(0, LETTERS) ?? ''}
        height={20}
        tick={TICK}
        stroke="var(--line)"
      />
      <YAxis
        type="number"
        dataKey="value"
        width={84}
        domain={[low - room, high + room]}
        ticks={[...new Set([low, 0, high])].toSorted((a, b) => a - b)}
        tick={TICK}
        tickFormatter={label}
        tickLine={false}
        axisLine={false}
      />
      {next ? (
        <ReferenceArea y1={next.low} y2={next.high} fill="var(--accent-soft)" fillOpacity={1} />
      ) : null}
      <ReferenceLine y={0} stroke="var(--line-strong)" />
      {next ? (
        <ReferenceLine y={next.value} stroke="var(--ink-soft)" strokeDasharray="6 4" />
      ) : null}
      {events.map(({ mean, name }, index) => (
        <ReferenceLine
          key={`${index} ${name}`}
          segment={[
            { x: index + 1 - MEAN, y: mean },
            { x: index + 1 + MEAN, y: mean },
          ]}
          stroke="var(--ink)"
          strokeWidth={2}
        />
      ))}
      <Scatter data={points} shape={mark} isAnimationActive={false} />
    </ScatterChart>
  );
};
