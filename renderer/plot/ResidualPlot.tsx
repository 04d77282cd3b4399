import type { ReactElement } from 'react';
import { CartesianGrid, ReferenceLine, Scatter, ScatterChart, XAxis, YAxis } from 'recharts';
import { fixed, signed } from '../../core/format/number.ts';
import { TICK } from './tick.ts';

export interface ResidualPlotProps {
  /** Load and error in the unit shown; up and down are drawn with other marks. */
  readonly points: readonly {
    readonly load: number;
    readonly error: number;
    readonly side: 'up' | 'down';
  }[];
  readonly width: number;
  readonly height: number;
}

const MARGIN = { top: 8, right: 12, bottom: 0, left: 0 };

/** The next of 1, 2, 5 times a power of ten: a reach whose half is a round number too. */
const roundReach = (reach: number): number => {
  const power = 10 ** Math.floor(Math.log10(reach));
  const step = [1, 2, 5, 10].find((each) => each * power >= reach) ?? 10;
  return step * power;
};

/** What a calibration leaves of its points. It stands still. */
export const ResidualPlot = ({ points, width, height }: ResidualPlotProps): ReactElement => {
  const reach = roundReach(Math.max(1e-3, ...points.map(({ error }) => Math.abs(error))));
  const top = roundReach(Math.max(1, ...points.map(({ load }) => load)));
  const decimals = Math.max(0, Math.min(4, 1 - Math.floor(Math.log10(reach))));
  const of = (side: 'up' | 'down') => points.filter((point) => point.side === side);
  return (
    <ScatterChart width={width} height={height} margin={MARGIN} accessibilityLayer={false}>
      <CartesianGrid vertical={false} stroke="var(--line)" />
      <XAxis
        type="number"
        dataKey="load"
        domain={[0, top]}
        ticks={[0, top / 2, top]}
        height={20}
        tick={TICK}
        tickFormatter={(load: number) => fixed(load, 0)}
        stroke="var(--line)"
      />
      <YAxis
        type="number"
        dataKey="error"
        width={56}
        domain={[-reach, reach]}
        ticks={[-reach, 0, reach]}
        tick={TICK}
        tickFormatter={(error: number) => signed(error, decimals)}
        tickLine={false}
        axisLine={false}
      />
      <ReferenceLine y={0} stroke="var(--ink-soft)" />
      <Scatter
        data={of('up')}
        shape="triangle"
        fill="var(--trace)"
        isAnimationActive={false}
        name="up"
      />
      <Scatter
        data={of('down')}
        shape="circle"
        fill="none"
        stroke="var(--trace)"
        strokeWidth={2}
        isAnimationActive={false}
        name="down"
      />
    </ScatterChart>
  );
};
