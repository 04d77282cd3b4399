import type { ReactElement } from 'react';
import type { BenchState } from '../../../core/contract/events.ts';
import type { SeasonPoint } from '../../../core/contract/season.ts';
import { changeText, valueText, type Wanted } from '../../../core/format/valueShown.ts';
import { clockShown } from '../../clockShown.ts';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import styles from './Screen.module.css';

/** Records to be opened on other screens: one, or two to be compared. */
export interface RecordsToOpen {
  readonly recordId: string;
  /** What it is compared with; null opens it alone. */
  readonly beforeId: string | null;
}

/** The point that is open: what it says, and the ways to its record. */
export const OpenPoint = ({
  state,
  point,
  before,
  wanted,
  onOpenRecords,
}: {
  readonly state: BenchState;
  readonly point: SeasonPoint;
  /** The one before it on the trace; null for the first. */
  readonly before: SeasonPoint | null;
  readonly wanted: Wanted;
  readonly onOpenRecords: (records: RecordsToOpen) => void;
}): ReactElement => {
  const { note, give } = useCommand();
  const { recordId, value, target, at, phase, venueName } = point;
  const place = venueName === '' ? '' : ` at ${venueName}`;
  const change = before && value.value - before.value.value;
  const u = before && Math.hypot(value.u, before.value.u);
  const car = state.cars.find(({ id }) => id === point.carId) ?? null;
  const isInHand = point.carId === state.car.id;
  return (
    <section className={styles['open']} aria-label="Open point">
      <p>
        {clockShown(at)}, {phase}
        {place}: <b>{valueText(wanted, value.value, value.u)}</b>{' '}
        <small>±{valueText(wanted, value.u, value.u)}</small>
        {change === null ? '' : `, ${changeText(wanted, change, u)} since the one before`}
        {target === null
          ? ''
          : `, ${changeText(wanted, value.value - target, value.u)} from its target`}
        .
      </p>
      <NoteLine note={note} />
      {isInHand ? (
        <>
          {before && before.carId === point.carId ? (
            <PushButton onPress={() => onOpenRecords({ recordId, beforeId: before.recordId })}>
              Compare with the one before
            </PushButton>
          ) : null}
          <PushButton onPress={() => onOpenRecords({ recordId, beforeId: null })}>
            Open the record
          </PushButton>
        </>
      ) : car ? (
        <PushButton onPress={() => void give({ do: 'use car', car })}>
          Use {car.name}, to open its record
        </PushButton>
      ) : null}
    </section>
  );
};
