import type { ReactElement } from 'react';
import { CartesianGrid, Line, LineChart, ReferenceLine, XAxis, YAxis } from 'recharts';
import { TICK } from './tick.ts';

/** A value in the unit shown, and how it is drawn. */
export type SeasonMark =
  | {
      readonly is: 'ours';
      readonly id: string;
      readonly value: number;
      /** Half of its band. */
      readonly half: number;
      readonly target: number | null;
      /** A set-down is drawn hollow, a release with a flag. */
      readonly isHollow: boolean;
      readonly isRelease: boolean;
    }
  | { readonly is: 'theirs'; readonly id: string; readonly value: number };

export interface SeasonPlotProps {
  /** In order of time. */
  readonly marks: readonly SeasonMark[];
  /** Which of ours is open. */
  readonly openId: string | null;
  readonly onOpen: (id: string) => void;
  readonly label: (value: number) => string;
  readonly width: number;
  readonly height: number;
}

const MARGIN = { top: 14, right: 14, bottom: 0, left: 0 };
/** A finger finds it. */
const REACH = 16;

interface Dot {
  readonly cx?: number | null;
  readonly cy?: number | null;
  readonly index?: number;
}

/** What scrutineers read has no target of its own: the one before it stands. */
const targetsOf = (marks: readonly SeasonMark[]): readonly (number | null)[] => {
  let standing: number | null = null;
  return marks.map((mark) => {
    if (mark.is === 'ours') standing = mark.target;
    return standing;
  });
};

/** One item over the season: values with bands, the target as a step, releases, what scrutineers read. */
export const SeasonPlot = ({
  marks,
  openId,
  onOpen,
  label,
  width,
  height,
}: SeasonPlotProps): ReactElement => {
  const targets = targetsOf(marks);
  const data = marks.map((mark, index) => ({
    no: index + 1,
    value: mark.is === 'ours' ? mark.value : null,
    theirs: mark.is === 'theirs' ? mark.value : null,
    target: targets[index] ?? null,
  }));
  const all = marks.flatMap((mark) =>
    mark.is === 'theirs'
      ? [mark.value]
      : [
          mark.value - mark.half,
          mark.value + mark.half,
          ...(mark.target === null ? [] : [mark.target]),
        ],
  );
  const low = Math.min(...all);
  const high = Math.max(...all);
  const room = 0.12 * Math.max(high - low, Math.abs(high) * 1e-6, Number.MIN_VALUE);
  const perUnit = (height - 34) / (high - low + 2 * room);
  const ours = ({ cx, cy, index = 0 }: Dot): ReactElement => {
    const mark = marks[index];
    if (mark?.is !== 'ours' || typeof cx !== 'number' || typeof cy !== 'number')
      return <g key={index} />;
    const half = mark.half * perUnit;
    return (
      <g key={index} cursor="pointer" onClick={() => onOpen(mark.id)}>
        <path d={`M${cx} ${cy - half}V${cy + half}`} stroke="var(--trace)" strokeWidth="2" />
        {mark.id === openId ? (
          <circle cx={cx} cy={cy} r="9" fill="none" stroke="var(--ink)" strokeWidth="2" />
        ) : null}
        <circle
          cx={cx}
          cy={cy}
          r="4"
          fill={mark.isHollow ? 'var(--paper)' : 'var(--trace)'}
          stroke="var(--trace)"
          strokeWidth="2"
        />
        {mark.isRelease ? (
          <path d={`M${cx} ${cy - half - 3}v-12h9l-3 3 3 3h-9`} fill="var(--ink)" />
        ) : null}
        <circle cx={cx} cy={cy} r={REACH} fill="transparent" />
      </g>
    );
  };
  const theirs = ({ cx, cy, index = 0 }: Dot): ReactElement =>
    typeof cx === 'number' && typeof cy === 'number' ? (
      <path
        key={index}
        d={`M${cx} ${cy - 6}l6 6-6 6-6-6z`}
        fill="var(--paper)"
        stroke="var(--ink)"
        strokeWidth="2"
      />
    ) : (
      <g key={index} />
    );
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
        dataKey="theirs"
        stroke="none"
        dot={theirs}
        activeDot={false}
        isAnimationActive={false}
      />
      <Line
        type="linear"
        dataKey="value"
        stroke="var(--line-strong)"
        dot={ours}
        activeDot={false}
        connectNulls
        isAnimationActive={false}
      />
    </LineChart>
  );
};
