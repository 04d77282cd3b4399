import { useState, type ReactElement } from 'react';
import { PHASES, type Phase } from '../../../core/contract/records.ts';
import { beginRecord } from '../../../core/sheet/carRecord.ts';
import { CAR_STATE_ITEMS } from '../../../core/sheet/carState.ts';
import { firstWalk } from '../../../core/sheet/askedItems.ts';
import { itemsOf } from '../../../core/sheet/items.ts';
import { isUnknown } from '../../../core/sheet/stateDifferences.ts';
import { useKept } from '../../live/useKept.ts';
import { wallClock } from '../../clockShown.ts';
import { newId } from '../../newId.ts';
import { Choice } from '../../parts/Choice.tsx';
import { Pick } from '../../parts/Pick.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import type { Measure } from './useMeasure.ts';
import styles from './Screen.module.css';

const NO_SHEET = 'no sheet';

/** A record begins: which phase, with which sheet. */
export const BeginRecord = ({
  measure,
  onSheet,
  onBegun,
  onLeave,
}: {
  readonly measure: Measure;
  readonly onSheet: () => void;
  readonly onBegun: (recordId: string) => void;
  /** Null while there is no record to go back to. */
  readonly onLeave: (() => void) | null;
}): ReactElement => {
  const { state, car, sheets, heads } = measure;
  const surveys = useKept('patch survey');
  const last = heads.at(-1) ?? null;
  const [phase, setPhase] = useState<Phase>(last?.phase === 'set-up' ? 'set-down' : 'set-up');
  const [chosen, setChosen] = useState<string | null>(null);
  const sheetId = chosen ?? last?.sheetId ?? sheets.at(-1)?.id ?? NO_SHEET;
  const sheet = sheets.find(({ id }) => id === sheetId) ?? null;
  const unchecked = CAR_STATE_ITEMS.filter(({ item }) => isUnknown(state.carState[item])).length;
  const begin = (): void => {
    const layings = new Set(surveys?.map(({ subject }) => subject));
    const id = newId();
    measure.keepRecord(
      beginRecord({
        id,
        phase,
        carId: car.id,
        sheet,
        outingId: state.outing.id,
        venueId: state.venue.id,
        surveyId: surveys?.at(-1)?.subject ?? null,
        laying: layings.size > 0 ? layings.size : null,
        begunAt: wallClock(),
        practice: state.source !== 'bluetooth',
        state: state.carState,
        walk: [...firstWalk(itemsOf(car, sheet?.extras ?? []), { sheet, before: measure.record })],
      }),
    );
    onBegun(id);
  };
  return (
    <section className={styles['part']} aria-label="Begin a record">
      <h2>Begin a record of {car.name}</h2>
      <p className={styles['help']}>
        One walk round the car: heights, cambers, toes as the sheet asks, corner weights from the
        pads. The set-up before a run and the set-down after it are compared item by item.
      </p>
      <div className={styles['fields']}>
        <Choice
          label="What for"
          options={PHASES.map((value) => ({ value, text: value }))}
          value={phase}
          onChange={setPhase}
        />
        <Pick
          label="With the sheet"
          options={[
            ...sheets.toReversed().map(({ id, name, number, released }) => ({
              value: id,
              text: `${name} no. ${number}${released ? ', released' : ''}`,
            })),
            { value: NO_SHEET, text: 'without a sheet' },
          ]}
          value={sheetId}
          onChange={setChosen}
        />
        {sheets.length === 0 ? (
          <PushButton onPress={onSheet}>Write a sheet first</PushButton>
        ) : null}
      </div>
      <p className={styles['help']}>
        {unchecked === 0
          ? 'The state of the car is checked and goes into the record.'
          : `${unchecked} of ${CAR_STATE_ITEMS.length} things of the car’s state are not checked: do that under Balance, State. Two records in different states are corrected or not compared.`}
        {surveys && surveys.length === 0
          ? ' The patch is not surveyed: heights keep their own datum.'
          : ''}
      </p>
      <footer className={styles['actions']}>
        <span />
        {onLeave ? <PushButton onPress={onLeave}>Back to the open record</PushButton> : null}
        <PushButton look="main" onPress={begin}>
          Begin
        </PushButton>
      </footer>
    </section>
  );
};
