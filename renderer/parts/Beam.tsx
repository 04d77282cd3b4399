import type { ReactElement } from 'react';
import styles from './Beam.module.css';

export interface BeamProps {
  readonly label: string;
  /** What stands at the two ends of the bar. */
  readonly ends: readonly [string, string];
  readonly number: string | null;
  readonly unit: string;
  readonly u: string | null;
  /** Weight of the left end less the right, −1 to 1 of the bar's travel; null is level and unknown. */
  readonly tip: number | null;
  /** Where the left end should be, on the same scale; null while there is no target. */
  readonly band?: readonly [number, number] | null;
  readonly stale: boolean;
}

const TRAVEL = 9;
const ARM = 62;
const PIVOT = { x: 75, y: 17 };

const height = (tip: number): number => PIVOT.y + ARM * Math.sin((TRAVEL * tip * Math.PI) / 180);

/** A number as a bar on a pivot: the heavier end sinks. */
export const Beam = ({
  label,
  ends,
  number,
  unit,
  u,
  tip,
  band = null,
  stale,
}: BeamProps): ReactElement => {
  const angle = tip === null ? 0 : -TRAVEL * Math.max(-1, Math.min(1, tip));
  return (
    <div className={styles['beam']} data-stale={stale}>
      <div className={styles['words']}>
        <span className={styles['label']}>{label}</span>
        <span className={styles['value']}>
          {number ?? '—'}
          <span className={styles['unit']}>{number === null ? '' : ` ${unit}`}</span>
          {u === null ? null : <span className={styles['u']}> ±{u}</span>}
        </span>
      </div>
      <div className={styles['picture']} aria-hidden="true">
        <span>{ends[0]}</span>
        <svg viewBox="0 0 150 36" className={styles['svg']}>
          {band ? (
            <path
              d={`M${PIVOT.x - ARM - 6} ${height(band[0])}V${height(band[1])}`}
              className={styles['band']}
            />
          ) : null}
          <path d={`M${PIVOT.x} ${PIVOT.y}l7 16h-14z`} className={styles['pivot']} />
          <g className={styles['bar']} transform={`rotate(${angle} ${PIVOT.x} ${PIVOT.y})`}>
            <path
              d={`M${PIVOT.x - ARM} ${PIVOT.y}h${2 * ARM}`}
              stroke="currentColor"
              strokeWidth="4"
              strokeLinecap="round"
              strokeDasharray={tip === null ? '2 7' : undefined}
            />
          </g>
        </svg>
        <span>{ends[1]}</span>
      </div>
    </div>
  );
};
