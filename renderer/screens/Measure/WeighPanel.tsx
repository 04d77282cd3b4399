import { useState, type ReactElement } from 'react';
import { measuredText } from '../../../core/format/valueShown.ts';
import type { Captured, CarRecord } from '../../../core/sheet/carRecord.ts';
import { standingOf } from '../../../core/sheet/stale.ts';
import type { ValueSources } from '../../../core/sheet/itemValue.ts';
import { clockShown, wallClock } from '../../clockShown.ts';
import { newId } from '../../newId.ts';
import { Choice } from '../../parts/Choice.tsx';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { Tag } from '../../parts/Tag.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import type { Measure } from './useMeasure.ts';
import styles from './Screen.module.css';

/** Corner weights join the record from captures. */
export const WeighPanel = ({
  measure,
  sources,
  record,
}: {
  readonly measure: Measure;
  readonly sources: ValueSources;
  readonly record: CarRecord;
}): ReactElement => {
  const { note, give } = useCommand();
  const { state, car } = measure;
  const [repeatChosen, setRepeat] = useState<boolean | null>(null);
  const attached = record.entries.filter((entry): entry is Captured => entry.is === 'capture');
  const weight = sources.items.get('weight.LF');
  const isFresh = weight !== undefined && standingOf(record, weight).fresh.length > 0;
  const isRepeat = repeatChosen ?? isFresh;
  const attach = (captureId: string): void => {
    measure.keepEntry(
      { is: 'capture', id: newId(), captureId, repeat: isRepeat, setAside: false, at: wallClock() },
      null,
    );
    setRepeat(null);
  };
  const newest = state.captures.find(
    ({ id, carId, setAside }) =>
      carId === car.id && !setAside && !attached.some(({ captureId }) => captureId === id),
  );
  const captureNow = async (): Promise<void> => {
    const result = await give(
      { do: 'capture', phase: record.phase, note: '' },
      { doing: 'Capturing.', done: () => 'Captured and in the record.' },
    );
    if (result?.is === 'captured') attach(result.capture.id);
  };
  const captures = new Map(state.captures.map((capture) => [capture.id, capture]));
  return (
    <section className={styles['part']} aria-label="Corner weights">
      <h2>Corner weights</h2>
      {attached.length === 0 ? (
        <p className={styles['help']}>
          None in this record yet: capture, or take one that is there.
        </p>
      ) : (
        <ul className={styles['readings']}>
          {attached.map((entry) => {
            const capture = sources.captures.get(entry.captureId) ?? captures.get(entry.captureId);
            return (
              <li key={entry.id} data-aside={entry.setAside}>
                <span>
                  {capture ? (
                    <>
                      <strong>
                        {measuredText(
                          { kind: 'mass', unit: state.settings.massUnit },
                          capture.balance.total,
                        )}
                      </strong>{' '}
                      <small>
                        capture no. {capture.number}, {clockShown(capture.takenAt)}
                      </small>
                    </>
                  ) : (
                    'a capture that is not here'
                  )}{' '}
                  {entry.repeat ? <Tag kind="note">repeat</Tag> : null}
                  {entry.setAside ? <Tag kind="stale">set aside</Tag> : null}
                </span>
                <PushButton
                  small
                  look="quiet"
                  onPress={() => measure.keepEntry({ ...entry, setAside: !entry.setAside }, null)}
                >
                  {entry.setAside ? 'Take back' : 'Set aside'}
                </PushButton>
              </li>
            );
          })}
        </ul>
      )}
      <div className={styles['buttons']}>
        {attached.length > 0 ? (
          <Choice
            label="The next capture is"
            options={[
              { value: 'repeat', text: 'the same car lowered again' },
              { value: 'new', text: 'the car as it is now' },
            ]}
            value={isRepeat ? 'repeat' : 'new'}
            onChange={(value) => setRepeat(value === 'repeat')}
          />
        ) : null}
        {newest ? (
          <PushButton small onPress={() => attach(newest.id)}>
            Take capture no. {newest.number}
          </PushButton>
        ) : null}
        <PushButton small onPress={() => void captureNow()}>
          Capture now
        </PushButton>
        <PushButton
          small
          look="quiet"
          onPress={() =>
            void give(
              { do: 'check zero' },
              {
                doing: 'Reading the zeros.',
                done: () => 'Zero checked: its shift is with the capture.',
              },
            )
          }
        >
          Car lifted: check zero
        </PushButton>
        <NoteLine note={note} />
      </div>
    </section>
  );
};
