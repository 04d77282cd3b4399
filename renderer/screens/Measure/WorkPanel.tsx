import { useState, type ReactElement } from 'react';
import { CORNERS, CORNER_NAMES, type Corner } from '../../../core/corners.ts';
import type { CarRecord } from '../../../core/sheet/carRecord.ts';
import { AXLES, type Axle } from '../../../core/sheet/itemKinds.ts';
import { WORKS, type WorkKind } from '../../../core/sheet/orderOfWork.ts';
import { WORK_AMOUNT, WORK_PLACE } from '../../../core/sheet/workInWords.ts';
import { clockShown, wallClock } from '../../clockShown.ts';
import { newId } from '../../newId.ts';
import { Choice } from '../../parts/Choice.tsx';
import { Field } from '../../parts/Field.tsx';
import { Pick } from '../../parts/Pick.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { quantityField, understandOrNone } from '../../parts/understandQuantity.ts';
import { understandNote } from './understandWho.ts';
import type { Measure } from './useMeasure.ts';
import { workWords } from './useWalk.ts';
import styles from './Screen.module.css';

interface Draft {
  readonly what: WorkKind;
  readonly corner: Corner | null;
  readonly axle: Axle | null;
  readonly part: string | null;
  readonly amount: number | null;
  readonly note: string;
}

const FIRST: Draft = {
  what: 'height adjuster',
  corner: null,
  axle: null,
  part: null,
  amount: null,
  note: '',
};

/** Work on the car since the readings: it marks as stale what it may have moved. */
export const WorkPanel = ({
  measure,
  record,
}: {
  readonly measure: Measure;
  readonly record: CarRecord;
}): ReactElement => {
  const [draft, setDraft] = useState(FIRST);
  const place = WORK_PLACE[draft.what];
  const kind = WORK_AMOUNT[draft.what];
  const done = record.entries.filter((entry) => entry.is === 'work');
  const add = (): void => {
    measure.keepEntry(
      { is: 'work', id: newId(), ...draft, who: measure.who, at: wallClock() },
      null,
    );
    setDraft({ ...FIRST, what: draft.what });
  };
  const wanted = { kind: kind ?? 'number', unit: null } as const;
  return (
    <section className={styles['part']} aria-label="Work on the car">
      <h2>Work on the car since</h2>
      {done.length > 0 ? (
        <ul className={styles['readings']}>
          {done.map((work) => (
            <li key={work.id}>
              <span>
                <strong>{workWords(work, measure)}</strong>{' '}
                <small>
                  {clockShown(work.at)}
                  {work.who === '' ? '' : `, ${work.who}`}
                  {work.note === '' ? '' : `, ${work.note}`}
                </small>
              </span>
            </li>
          ))}
        </ul>
      ) : null}
      <div className={styles['fields']}>
        <Pick
          label="What"
          options={WORKS.map((value) => ({ value, text: value }))}
          value={draft.what}
          onChange={(what) => setDraft({ ...FIRST, what, note: draft.note })}
        />
        {place === 'corner' ? (
          <Choice
            label="Where"
            options={CORNERS.map((value) => ({ value, text: CORNER_NAMES[value] }))}
            value={draft.corner}
            onChange={(corner) => setDraft({ ...draft, corner })}
          />
        ) : null}
        {place === 'axle' ? (
          <Choice
            label="Where"
            options={AXLES.map((value) => ({ value, text: value }))}
            value={draft.axle}
            onChange={(axle) => setDraft({ ...draft, axle })}
          />
        ) : null}
        {place === 'ballast place' ? (
          <Pick
            label="Where"
            options={(measure.car.details?.ballastPlaces ?? []).map(({ id, name }) => ({
              value: id,
              text: name,
            }))}
            value={draft.part}
            placeholder="no place in the car"
            onChange={(part) => setDraft({ ...draft, part })}
          />
        ) : null}
        {kind === null ? null : (
          <Field
            label="By how much"
            text={quantityField(wanted, draft.amount)}
            inputMode="decimal"
            understand={understandOrNone({ ...wanted, none: 'not said' })}
            onCommit={(amount) => setDraft({ ...draft, amount })}
          />
        )}
        <Field
          label="Note"
          text={draft.note}
          understand={understandNote(400)}
          onCommit={(note) => setDraft({ ...draft, note })}
        />
        <PushButton small onPress={add}>
          Note the work
        </PushButton>
      </div>
    </section>
  );
};
