import { useState, type ReactElement } from 'react';
import { Input } from 'react-aria-components/Input';
import { Label } from 'react-aria-components/Label';
import { TextField } from 'react-aria-components/TextField';
import type { Result } from '../../../core/contract/commands.ts';
import type { CalibrationRecord } from '../../../core/contract/calibrationRecord.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { useFrame } from '../../live/useLive.tsx';
import { cx } from '../../parts/cx.ts';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { useCommand } from '../../parts/useCommand.ts';
import { CalibrationFindings } from './CalibrationFindings.tsx';
import { CalibrationNumbers } from './CalibrationNumbers.tsx';
import { CalibrationPoints } from './CalibrationPoints.tsx';
import { MassChoice } from './MassChoice.tsx';
import { OnePadTrace } from './OnePadTrace.tsx';
import { PracticeLoad } from './PracticeLoad.tsx';
import styles from './Calibrate.module.css';

/** A calibration at work: what is on the pad, the points so far and what they make. */
export const CalibrateWork = ({
  state,
  record,
  onDone,
}: {
  readonly state: BenchState;
  readonly record: CalibrationRecord;
  readonly onDone: (done: Extract<Result, { readonly is: 'calibrated' }>) => void;
}): ReactElement => {
  const { note, give } = useCommand();
  const [massIds, setMassIds] = useState<readonly string[]>([]);
  const [isEmpty, setEmpty] = useState(true);
  const [reason, setReason] = useState('');
  const isSettled = useFrame((frame) => frame?.onePad?.stillness === 'settled');
  const { masses, padSerial } = record;
  const unit = state.settings.massUnit;
  const taken = record.points.filter(({ undone }) => !undone);
  const refused = record.findings.some(({ weight }) => weight === 'refuses');
  const nothing = masses ? massIds.length === 0 : isEmpty;

  const take = (isReadAgain: boolean): void =>
    void give(
      { do: 'take point', massIds: [...massIds], isEmpty: nothing, isReadAgain },
      { doing: 'Averaging.', done: () => `Point ${record.points.length + 1} taken.` },
    );
  const finish = async (): Promise<void> => {
    const why = reason.trim();
    const result = await give(
      { do: 'finish calibration', reason: why === '' ? null : why },
      { doing: 'Storing.', done: null },
    );
    if (result?.is === 'calibrated') onDone(result);
  };

  return (
    <div className={styles['work']}>
      <div className={styles['left']}>
        <OnePadTrace serial={padSerial} unit={unit} />
        {masses ? (
          <MassChoice set={masses} chosen={massIds} unit={unit} onChange={setMassIds} />
        ) : (
          <div className={styles['row']}>
            <PushButton onPress={() => setEmpty(!isEmpty)} aria-pressed={isEmpty}>
              {isEmpty ? 'Nothing presses: a zero' : 'Both are pressed'}
            </PushButton>
          </div>
        )}
        {state.practice ? (
          <PracticeLoad state={state} record={record} massIds={massIds} isEmpty={isEmpty} />
        ) : null}
        <div className={styles['taking']}>
          <PushButton look="main" isDisabled={!isSettled} onPress={() => take(false)}>
            {nothing ? 'Take zero' : 'Take point'}
          </PushButton>
          <PushButton isDisabled={!isSettled || taken.length === 0} onPress={() => take(true)}>
            Read again
          </PushButton>
          <PushButton
            isDisabled={taken.length === 0}
            onPress={() => void give({ do: 'undo point' })}
          >
            Undo
          </PushButton>
          <NoteLine
            note={note}
            otherwise={isSettled ? '' : 'Not yet: wait until the load lies still.'}
          />
        </div>
      </div>
      <div className={styles['right']}>
        <CalibrationPoints record={record} unit={unit} />
        <CalibrationNumbers record={record} unit={unit} />
        <CalibrationFindings findings={record.findings} />
        <footer className={styles['finish']}>
          {refused ? (
            <TextField className={cx(styles['reason'])} value={reason} onChange={setReason}>
              <Label>Why it is used all the same</Label>
              <Input maxLength={400} placeholder="written into the record" />
            </TextField>
          ) : null}
          <div className={styles['buttons']}>
            <PushButton
              look="quiet"
              onPress={() => void give({ do: 'give up calibration' })}
              isDisabled={taken.length > 0}
            >
              Give up
            </PushButton>
            <PushButton onPress={() => void give({ do: 'work at calibration', id: null })}>
              Stop for now
            </PushButton>
            <PushButton
              look="main"
              isDisabled={record.coefficients === null}
              onPress={() => void finish()}
            >
              {refused && reason.trim() === '' ? 'Finish' : 'Finish and use'}
            </PushButton>
          </div>
        </footer>
      </div>
    </div>
  );
};
