import type { ReactElement } from 'react';
import { valueText, type Wanted } from '../../../core/format/valueShown.ts';
import { firstUnit, unitOf } from '../../../core/format/unitTable.ts';
import type { TraceEntry } from '../../../core/sheet/seasonTrace.ts';
import { useSize } from '../../parts/useSize.ts';
import { SeasonPlot, type SeasonMark } from '../../plot/SeasonPlot.tsx';
import styles from './Screen.module.css';

/** Half of the band that holds the value with 95 %, in standard uncertainties. */
const BAND = 2;

const markOf = (entry: TraceEntry, inSi: number): SeasonMark => {
  if (entry.is === 'theirs')
    return { is: 'theirs', id: entry.reading.pairId, value: entry.reading.value / inSi };
  const { recordId, value, target, phase, isRelease } = entry.point;
  return {
    is: 'ours',
    id: recordId,
    value: value.value / inSi,
    half: (BAND * value.u) / inSi,
    target: target === null ? null : target / inSi,
    isHollow: phase === 'set-down',
    isRelease,
  };
};

/** The trace drawn; a value of ours is opened by a press on it. */
export const Trace = ({
  entries,
  wanted,
  openId,
  onOpen,
}: {
  readonly entries: readonly TraceEntry[];
  readonly wanted: Wanted;
  readonly openId: string | null;
  readonly onOpen: (recordId: string) => void;
}): ReactElement => {
  const [element, size] = useSize<HTMLDivElement>();
  const { inSi } =
    (wanted.unit === null ? null : unitOf(wanted.kind, wanted.unit)) ?? firstUnit(wanted.kind);
  return (
    <div
      ref={element}
      className={styles['chart']}
      role="img"
      aria-label={`${entries.length} values over the season with their bands`}
    >
      {size && entries.length > 0 ? (
        <SeasonPlot
          marks={entries.map((entry) => markOf(entry, inSi))}
          openId={openId}
          onOpen={onOpen}
          label={(value) => valueText(wanted, value * inSi)}
          width={size.width}
          height={size.height}
        />
      ) : null}
    </div>
  );
};
