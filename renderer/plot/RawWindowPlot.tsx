import type { ReactElement } from 'react';
import { CartesianGrid, Line, LineChart, XAxis, YAxis } from 'recharts';
import { fixed, signed } from '../../core/format/number.ts';
import { TICK } from './tick.ts';

export interface RawWindowPlotProps {
  /** Seconds from the first sample, and counts as sent. */
  readonly t: readonly number[];
  readonly raw: readonly number[];
  readonly width: number;
  readonly height: number;
}

const MARGIN = { top: 6, right: 6, bottom: 0, left: 0 };

const rounded = (reach: number): number => {
  const power = 10 ** Math.floor(Math.log10(Math.max(reach, 1)));
  return Math.ceil(reach / power) * power;
};

/** The raw window of one corner of a capture: counts about their mean. It stands still. */
export const RawWindowPlot = ({ t, raw, width, height }: RawWindowPlotProps): ReactElement => {
  const mean = raw.reduce((sum, counts) => sum + counts, 0) / Math.max(1, raw.length);
  const data = t.map((time, index) => ({ t: time, off: (raw[index] ?? Number.NaN) - mean }));
  const reach = rounded(Math.max(1, ...data.map(({ off }) => Math.abs(off))));
  const end = t.at(-1) ?? 0;
  return (
    <LineChart width={width} height={height} data={data} margin={MARGIN} accessibilityLayer={false}>
      <CartesianGrid vertical={false} stroke="var(--line)" />
      <XAxis
        type="number"
        dataKey="t"
        domain={[0, end]}
        ticks={[0, end]}
        interval={0}
        height={20}
        tick={TICK}
        tickFormatter={(time: number) => `${fixed(time, 1)} s`}
        stroke="var(--line)"
      />
      <YAxis
        type="number"
        width={48}
        domain={[-reach, reach]}
        ticks={[-reach, 0, reach]}
        interval={0}
        tick={TICK}
        tickFormatter={(off: number) => signed(off, 0)}
        tickLine={false}
        axisLine={false}
      />
      <Line
        type="linear"
        dataKey="off"
        stroke="var(--trace)"
        strokeWidth={1}
        isAnimationActive={false}
        dot={false}
        activeDot={false}
      />
    </LineChart>
  );
};
