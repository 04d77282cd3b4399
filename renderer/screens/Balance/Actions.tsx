import { useState, type ReactElement } from 'react';
import { PHASES } from '../../../core/contract/records.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import { arePadsEmpty } from '../../../core/answers/cornerCheck.ts';
import { useFreeKeys } from '../../freeKeys.ts';
import { useFrame } from '../../live/useLive.tsx';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { Pick } from '../../parts/Pick.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { useCommand, type CommandWords } from '../../parts/useCommand.ts';
import { CautionNote } from './CautionNote.tsx';
import styles from './Actions.module.css';

type Phase = (typeof PHASES)[number];

const PHASE_OPTIONS = PHASES.map((value) => ({ value, text: value }));

const CAPTURING: CommandWords = {
  doing: 'Capturing all four corners over one window.',
  done: (result) =>
    result.is === 'captured' ? `Captured and stored as no. ${result.capture.number}.` : 'Captured.',
};
const ZEROING: CommandWords = { doing: 'Taking the zero.', done: () => 'Zero taken and stored.' };
const CHECKING: CommandWords = {
  doing: 'Reading the zeros again.',
  done: () => 'Zero shift noted on the last capture.',
};

/** The caution of the step, and the two actions of the screen: Capture, the safe one, is nearer. */
export const Actions = ({
  state,
  note: captureNote,
}: {
  readonly state: BenchState;
  /** Words to store with the next capture. */
  readonly note: string;
}): ReactElement => {
  const [phase, setPhase] = useState<Phase>('set-up');
  const { note, give } = useCommand();
  const notReady = useFrame((frame) => (frame ? frame.notReady : 'No reading yet.'));
  const isEmpty = useFrame((frame) => frame !== null && arePadsEmpty(frame));
  const isGoing = useFrame((frame) => frame !== null && frame.early !== null);
  const last = state.captures.find((capture) => !capture.setAside);
  const canCheck = isEmpty && last !== undefined && last.zeroShift === null;

  const take = (isEarly: boolean): void => {
    if (note?.kind === 'doing') return;
    void give({ do: 'capture', phase, note: captureNote, isEarly }, CAPTURING);
  };
  const capture = (): void => take(false);
  useFreeKeys({ ' ': capture });

  return (
    <footer className={styles['actions']}>
      <CautionNote state={state} />
      <div className={styles['doing']}>
        <NoteLine note={note} otherwise={notReady === null ? '' : `Not yet: ${notReady}`} />
        <div className={styles['buttons']}>
          {canCheck ? (
            <PushButton onPress={() => void give({ do: 'check zero' }, CHECKING)}>
              Check zero
            </PushButton>
          ) : null}
          <Pick
            label="What the capture is"
            labelUnseen
            options={PHASE_OPTIONS}
            value={phase}
            onChange={setPhase}
          />
          {isGoing ? <PushButton onPress={() => take(true)}>Capture provisional</PushButton> : null}
          <PushButton onPress={() => void give({ do: 'zero' }, ZEROING)}>Zero</PushButton>
          <PushButton look="main" onPress={capture} aria-keyshortcuts="Space">
            Capture
          </PushButton>
        </div>
      </div>
    </footer>
  );
};
