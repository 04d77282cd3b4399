import type { ReactElement } from 'react';
import { CartesianGrid, Line, LineChart, ReferenceLine, XAxis, YAxis } from 'recharts';
import { TICK } from './tick.ts';

export interface ControlChartProps {
  /** In order of time; a value out of control is marked. */
  readonly points: readonly {
    readonly value: number;
    readonly average: number | null;
    readonly isOut: boolean;
  }[];
  readonly limits: {
    readonly centre: number;
    readonly lower: number;
    readonly upper: number;
  } | null;
  readonly label: (value: number) => string;
  readonly width: number;
  readonly height: number;
}

const MARGIN = { top: 8, right: 12, bottom: 0, left: 0 };
/** Room above and below what is drawn, as a share of its reach. */
const ROOM = 0.15;

interface Dot {
  readonly cx?: number;
  readonly cy?: number;
  readonly index?: number;
}

/**
 * A control chart: single values as dots, the weighted average as a line, limits as level lines. A
 * value out of control is a triangle.
 */
export const ControlChart = ({
  points,
  limits,
  label,
  width,
  height,
}: ControlChartProps): ReactElement => {
  const data = points.map(({ value, average }, index) => ({ no: index + 1, value, average }));
  const all = [
    ...points.flatMap(({ value, average }) => (average === null ? [value] : [value, average])),
    ...(limits ? [limits.lower, limits.upper] : []),
  ];
  const low = Math.min(...all);
  const high = Math.max(...all);
  const room = ROOM * Math.max(high - low, Math.abs(high) * 1e-6, Number.MIN_VALUE);
  const ticks = limits ? [limits.lower, limits.centre, limits.upper] : [low, high];
  const mark = ({ cx = 0, cy = 0, index = 0 }: Dot): ReactElement =>
    points[index]?.isOut ? (
      <path
        key={index}
        d={`M${cx} ${cy - 6}l6 10h-12z`}
        fill="var(--alarm)"
        stroke="var(--paper)"
      />
    ) : (
      <circle key={index} cx={cx} cy={cy} r={3} fill="var(--trace)" />
    );
  return (
    <LineChart width={width} height={height} data={data} margin={MARGIN} accessibilityLayer={false}>
      <CartesianGrid vertical={false} stroke="var(--line)" />
      <XAxis
        type="number"
        dataKey="no"
        domain={[1, Math.max(2, data.length)]}
        ticks={[1, Math.max(2, data.length)]}
        height={20}
        tick={TICK}
        stroke="var(--line)"
      />
      <YAxis
        type="number"
        width={84}
        domain={[low - room, high + room]}
        ticks={ticks}
        tick={TICK}
        tickFormatter={label}
        tickLine={false}
        axisLine={false}
      />
      {limits ? (
        <>
          <ReferenceLine y={limits.lower} stroke="var(--ink-soft)" strokeDasharray="6 4" />
          <ReferenceLine y={limits.centre} stroke="var(--ink-soft)" />
          <ReferenceLine y={limits.upper} stroke="var(--ink-soft)" strokeDasharray="6 4" />
        </>
      ) : null}
      <Line
        dataKey="average"
        stroke="var(--accent)"
        strokeWidth={2}
        dot={false}
        activeDot={false}
        isAnimationActive={false}
      />
      <Line dataKey="value" stroke="none" dot={mark} activeDot={false} isAnimationActive={false} />
    </LineChart>
  );
};
