import { useEffect, useState, type ReactElement } from 'react';
import { HARD_SPACE, fixed } from '../../../core/format/number.ts';
import { timeToSheet, type CarRecord } from '../../../core/sheet/carRecord.ts';
import { clockShown, wallClock } from '../../clockShown.ts';
import { Pick } from '../../parts/Pick.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { Field } from '../../parts/Field.tsx';
import { PrintButtons } from './PrintButtons.tsx';
import type { Measure } from './useMeasure.ts';
import { understandWho } from './understandWho.ts';
import styles from './Screen.module.css';

/** When a car came in, by the window's monotonic clock, s: while this page is open. */
const carsIn = new Map<string, number>();
const monotonic = (): number => performance.now() / 1000;

const duration = (seconds: number): string =>
  `${fixed(Math.floor(seconds / 60), 0)}:${String(Math.floor(seconds % 60)).padStart(2, '0')}${HARD_SPACE}min`;

/** The wall clock, told again every second while `runs`. */
const useClock = (runs: boolean): number => {
  const [now, setNow] = useState(wallClock);
  useEffect(() => {
    if (!runs) return undefined;
    const timer = setInterval(() => setNow(wallClock()), 1000);
    return () => clearInterval(timer);
  }, [runs]);
  return now;
};

/** From car in to sheet ready. */
const Timer = ({
  record,
  onChange,
}: {
  readonly record: CarRecord;
  readonly onChange: (record: CarRecord) => void;
}): ReactElement => {
  const { timer } = record;
  const runs = timer.carInAt !== null && timer.sheetReadyAt === null;
  const now = useClock(runs);
  if (timer.carInAt === null)
    return (
      <PushButton
        small
        onPress={() => {
          carsIn.set(record.id, monotonic());
          onChange({ ...record, timer: { ...timer, carInAt: wallClock() } });
        }}
      >
        Car in
      </PushButton>
    );
  const taken = timeToSheet(record);
  return (
    <div className={styles['timer']}>
      <span>
        {taken
          ? `Car in ${clockShown(timer.carInAt)}, sheet ready after ${duration(taken.seconds)}${taken.clock === 'wall' ? ' by the wall clock' : ''}`
          : `Car in ${clockShown(timer.carInAt)}, ${duration(Math.max(0, (now - timer.carInAt) / 1000))}`}
      </span>
      {taken ? null : (
        <PushButton
          small
          onPress={() => {
            const since = carsIn.get(record.id);
            onChange({
              ...record,
              timer: {
                ...timer,
                sheetReadyAt: wallClock(),
                seconds: since === undefined ? null : monotonic() - since,
              },
            });
          }}
        >
          Sheet ready
        </PushButton>
      )}
    </div>
  );
};

/** Which record is open, who reads, its time, its paper. */
export const RecordBar = ({
  measure,
  onBegin,
}: {
  readonly measure: Measure;
  readonly onBegin: () => void;
}): ReactElement | null => {
  const { record, heads, sheets, state } = measure;
  if (!record) return null;
  const nameOf = ({ phase, begunAt, sheetId }: CarRecord): string => {
    const sheet = sheets.find(({ id }) => id === sheetId);
    return `${phase}, ${clockShown(begunAt)}${sheet ? `, ${sheet.name} no. ${sheet.number}` : ''}`;
  };
  const others = measure.people.filter((name) => name !== measure.who);
  const isOther = JSON.stringify(record.state) !== JSON.stringify(state.carState);
  return (
    <section className={styles['bar']} aria-label="Record">
      <Pick
        label="Record"
        options={heads.toReversed().map((each) => ({ value: each.id, text: nameOf(each) }))}
        value={record.id}
        onChange={measure.open}
      />
      <Field
        label="Read by"
        text={measure.who}
        understand={understandWho}
        onCommit={measure.setWho}
      />
      {others.length > 0 ? (
        <Pick
          label="Or who was before"
          options={others.map((value) => ({ value, text: value }))}
          value={null}
          onChange={measure.setWho}
        />
      ) : null}
      <Timer record={record} onChange={measure.keepRecord} />
      <PrintButtons what={{ is: 'record', recordId: record.id }} />
      {isOther ? (
        <PushButton
          small
          look="quiet"
          onPress={() => measure.keepRecord({ ...record, state: state.carState })}
        >
          The car’s state was changed: take it over
        </PushButton>
      ) : null}
      <PushButton
        small
        look="quiet"
        onPress={() => measure.keepRecord({ ...record, setAside: true })}
      >
        Set aside
      </PushButton>
      <PushButton small onPress={onBegin}>
        Begin another
      </PushButton>
    </section>
  );
};
