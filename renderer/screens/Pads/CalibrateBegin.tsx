import { useState, type ReactElement } from 'react';
import type { Limits } from '../../../core/contract/calibrationRecord.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { clockShown } from '../../clockShown.ts';
import { CautionText } from '../../parts/CautionText.tsx';
import { Choice } from '../../parts/Choice.tsx';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { Pick } from '../../parts/Pick.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import { LimitsFields } from './LimitsFields.tsx';
import { MassSets } from './MassSets.tsx';
import { padOptions } from './padOptions.ts';
import styles from './Calibrate.module.css';

const WITH = ['masses', 'pad'] as const;
const WITH_TEXT = { masses: 'masses', pad: 'a pad in series' } as const;

/** Which pad, with what, against which limits; and what was stopped before. */
export const CalibrateBegin = ({
  state,
  onBegin,
}: {
  readonly state: BenchState;
  readonly onBegin: () => void;
}): ReactElement => {
  const { note, give } = useCommand();
  const [chosenPad, setPad] = useState<string | null>(null);
  const [using, setUsing] = useState<(typeof WITH)[number]>('masses');
  const [chosenSet, setSet] = useState<string | null>(null);
  const [reference, setReference] = useState<string | null>(null);
  const [against, setAgainst] = useState<Limits | null>(null);
  const pads = padOptions(state);
  const pad = chosenPad ?? pads[0]?.value ?? null;
  const massSetId = chosenSet ?? state.massSets[0]?.id ?? null;

  const begin = async (): Promise<void> => {
    if (pad === null) return;
    const result = await give(
      {
        do: 'begin calibration',
        padSerial: pad,
        massSetId: using === 'masses' ? massSetId : null,
        referenceSerial: using === 'pad' ? reference : null,
        against,
      },
      { doing: 'Beginning.', done: null },
    );
    if (result) onBegin();
  };
  return (
    <div className={styles['begin']}>
      {state.unfinished.length > 0 ? (
        <section className={styles['part']} aria-label="Not finished">
          <h2>Not finished</h2>
          <ul className={styles['list']}>
            {state.unfinished.map((draft) => (
              <li key={draft.id} className={styles['row']}>
                <span>
                  <strong>{draft.padSerial}</strong> with {draft.with}, {draft.points} points,{' '}
                  {clockShown(draft.begunAt)}
                </span>
                <PushButton
                  small
                  onPress={() => void give({ do: 'work at calibration', id: draft.id })}
                >
                  Resume
                </PushButton>
              </li>
            ))}
          </ul>
        </section>
      ) : null}
      <section className={styles['part']} aria-label="A new calibration">
        <h2>A new calibration</h2>
        <div className={styles['fields']}>
          <Pick
            label="Pad"
            options={pads}
            value={pad}
            placeholder="no pad heard"
            onChange={setPad}
          />
          <Choice
            label="With"
            options={WITH.map((value) => ({ value, text: WITH_TEXT[value] }))}
            value={using}
            onChange={setUsing}
          />
          {using === 'masses' ? (
            <Pick
              label="Set of masses"
              options={state.massSets.map(({ id, name }) => ({ value: id, text: name }))}
              value={massSetId}
              placeholder="none yet: add one below"
              onChange={setSet}
            />
          ) : (
            <Pick
              label="Calibrated pad under it"
              options={pads.filter(({ value }) => value !== pad)}
              value={reference}
              onChange={setReference}
            />
          )}
        </div>
        <LimitsFields limits={against} onChange={setAgainst} />
        <p className={styles['help']}>
          {using === 'masses'
            ? 'Pad on firm level ground, nothing on it. Then masses up and down, in any order; the middle of the pad; at least three loads, the largest near what a wheel weighs. Each point is the settled average.'
            : 'The pad on top of a calibrated one, both straight under the load: a corner of the car, or a jack under a beam. Both take their zero stacked. No masses are needed; what the lower pad says is handed on.'}
        </p>
        <CautionText step="at the masses" />
        <footer className={styles['actions']}>
          <NoteLine note={note} />
          <PushButton look="main" isDisabled={pad === null} onPress={() => void begin()}>
            Begin
          </PushButton>
        </footer>
      </section>
      <MassSets state={state} />
    </div>
  );
};
