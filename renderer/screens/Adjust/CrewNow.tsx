import { useEffect, useRef, type ReactElement } from 'react';
import type { CrewStep } from '../../../core/adjust/call.ts';
import type { AdjustReading } from '../../../core/adjust/reading.ts';
import type { RestBand } from '../../../core/adjust/restBand.ts';
import { isSettledReading } from '../../../core/adjust/settledReading.ts';
import type { Answer } from '../../../core/answers/answer.ts';
import type { Frame } from '../../../core/contract/events.ts';
import { useClient, useFrame } from '../../live/useLive.tsx';
import { AnswerHead } from '../../parts/AnswerHead.tsx';
import { CautionText } from '../../parts/CautionText.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { BandLine } from './BandLine.tsx';
import styles from './Call.module.css';

/** Takes the reading by itself as soon as all four are live and settled. */
const Judging = ({ onReading }: { readonly onReading: (frame: Frame) => void }): ReactElement => {
  const client = useClient();
  const isSettled = useFrame(isSettledReading);
  const taken = useRef(false);
  useEffect(() => {
    const frame = client.live.get();
    if (!isSettled || taken.current || !frame || !isSettledReading(frame)) return;
    taken.current = true;
    onReading(frame);
  }, [isSettled, client, onReading]);
  const live = useFrame((frame) => (frame?.stillness ?? null) !== null);
  return (
    <p role="status">
      {live
        ? 'Waiting for all four corners to settle; the reading is taken by itself.'
        : 'Not all four pads are live. The plan stays; it goes on when they are back.'}
    </p>
  );
};

const HUGE: Readonly<Record<Exclude<CrewStep['do'], 'turn'>, string>> = {
  raise: 'Raise the car',
  lower: 'Lower the car',
  settle: 'Settle it',
  judge: 'Hands off',
};

const CAUTION_OF = {
  raise: 'before raising',
  lower: 'before lowering',
  judge: 'while it moves',
} as const;

/** What the crew does between calls: raise, lower, settle, judge. */
export const CrewNow = ({
  question,
  answer,
  step,
  band,
  onDone,
  onReading,
  onLeave,
}: {
  readonly question: string;
  readonly answer: Answer;
  readonly step: Exclude<CrewStep['do'], 'turn'>;
  readonly band: RestBand | null;
  readonly onDone: (settled?: AdjustReading['settled']) => void;
  readonly onReading: (frame: Frame) => void;
  readonly onLeave: () => void;
}): ReactElement => (
  <>
    <AnswerHead question={question} answer={answer} />
    <section className={styles['huge']} aria-label="Call">
      <p className={styles['corner']}>{HUGE[step]}</p>
      {step === 'settle' ? null : (
        <div className={styles['caution']}>
          <CautionText step={CAUTION_OF[step]} />
        </div>
      )}
      {step === 'settle' && band ? <BandLine band={band} /> : null}
      {step === 'judge' ? <Judging onReading={onReading} /> : null}
    </section>
    <div className={styles['actions']}>
      <PushButton onPress={onLeave}>
        {step === 'raise' ? 'Leave it' : 'Leave without a reading'}
      </PushButton>
      {step === 'settle' ? (
        <PushButton onPress={() => onDone('as it came')}>Leave as it came</PushButton>
      ) : null}
      {step === 'judge' ? null : (
        <PushButton look="main" onPress={() => (step === 'settle' ? onDone('bounced') : onDone())}>
          {step === 'settle' ? 'Settled, hands off' : 'Done'}
        </PushButton>
      )}
    </div>
  </>
);
