import type { ReactElement } from 'react';
import { CartesianGrid, Line, LineChart, ReferenceLine, XAxis, YAxis } from 'recharts';

export interface SeasonPlotProps {
  /** In order of time; values and half widths of their bands in the unit shown. */
  readonly points: readonly {
    readonly value: number;
    readonly half: number;
    readonly target: number | null;
    /** A set-down is drawn hollow, a release with a flag. */
    readonly isHollow: boolean;
    readonly isRelease: boolean;
  }[];
  readonly label: (value: number) => string;
  readonly width: number;
  readonly height: number;
}

const MARGIN = { top: 14, right: 14, bottom: 0, left: 0 };
const TICK = { fontSize: 11, fill: 'var(--ink-soft)' };

interface Dot {
  readonly cx?: number;
  readonly cy?: number;
  readonly index?: number;
}

/** One item over the season: each value with its band, the target as a step, releases marked. */
export const SeasonPlot = ({ points, label, width, height }: SeasonPlotProps): ReactElement => {
  const data = points.map(({ value, half, target }, index) => ({
    no: index + 1,
    value,
    target,
    band: [value - half, value + half] as const,
  }));
  const all = points.flatMap(({ value, half, target }) => [
    value - half,
    value + half,
    ...(target === null ? [] : [target]),
  ]);
  const low = Math.min(...all);
  const high = Math.max(...all);
  const room = 0.12 * Math.max(high - low, Math.abs(high) * 1e-6, Number.MIN_VALUE);
  const perUnit = (height - 34) / (high - low + 2 * room);
  const mark = ({ cx = 0, cy = 0, index = 0 }: Dot): ReactElement => {
    const point = points[index];
    const half = (point?.half ?? 0) * perUnit;
    return (
      <g key={index}>
        <path d={`M${cx} ${cy - half}V${cy + half}`} stroke="var(--trace)" strokeWidth="2" />
        <circle
          cx={cx}
          cy={cy}
          r="4"
          fill={point?.isHollow ? 'var(--paper)' : 'var(--trace)'}
          stroke="var(--trace)"
          strokeWidth="2"
        />
        {point?.isRelease ? (
          <path d={`M${cx} ${cy - half - 3}v-12h9l-3 3 3 3h-9`} fill="var(--ink)" />
        ) : null}
      </g>
    );
  };
  return (
    <LineChart width={width} height={height} data={data} margin={MARGIN} accessibilityLayer={false}>
      <CartesianGrid vertical={false} stroke="var(--line)" />
      <XAxis
        type="number"
        dataKey="no"
        domain={[0.5, Math.max(2, data.length) + 0.5]}
        ticks={[1, Math.max(2, data.length)]}
        height={20}
        tick={TICK}
        stroke="var(--line)"
      />
      <YAxis
        type="number"
        width={92}
        domain={[low - room, high + room]}
        ticks={[low, (low + high) / 2, high]}
        tick={TICK}
        tickFormatter={label}
        tickLine={false}
        axisLine={false}
      />
      <ReferenceLine y={0} stroke="var(--line-strong)" ifOverflow="hidden" />
      <Line
        type="stepAfter"
        dataKey="target"
        stroke="var(--ink-soft)"
        strokeDasharray="6 4"
        dot={false}
        activeDot={false}
        isAnimationActive={false}
      />
      <Line
        type="linear"
        dataKey="value"
        stroke="var(--line-strong)"
        dot={mark}
        activeDot={false}
        isAnimationActive={false}
      />
    </LineChart>
  );
};
