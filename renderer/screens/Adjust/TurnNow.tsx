import { useCallback, useMemo, useState, type ReactElement } from 'react';
import type { AdjustmentNow } from '../../../core/adjust/adjustment.ts';
import type { Call } from '../../../core/adjust/call.ts';
import { callProgress, watchCall, type CallProgress } from '../../../core/adjust/progress.ts';
import type { AdjustReading } from '../../../core/adjust/reading.ts';
import type { AdjustRefusal } from '../../../core/adjust/refusal.ts';
import { loadsNow } from '../../../core/adjust/settledReading.ts';
import { turnsInWords } from '../../../core/adjust/turnsInWords.ts';
import { adjustAnswer } from '../../../core/answers/adjustAnswer.ts';
import type { Frame } from '../../../core/contract/events.ts';
import { CORNER_NAMES, perCorner } from '../../../core/corners.ts';
import { fixed } from '../../../core/format/number.ts';
import type { MassUnit } from '../../../core/units.ts';
import { useFrame } from '../../live/useLive.tsx';
import { AnswerHead } from '../../parts/AnswerHead.tsx';
import { CautionText } from '../../parts/CautionText.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import styles from './Call.module.css';
import { useCallSound } from './useCallSound.ts';

type Progress = CallProgress | AdjustRefusal | null;

/** Whether two progresses look the same: a two-hundredth of the bar and a hundredth of a turn. */
const looksSame = (a: Progress, b: Progress): boolean => {
  if (!a || !b) return a === b;
  if (!a.ok || !b.ok) return !a.ok && !b.ok && a.why === b.why;
  return (
    a.verdict === b.verdict &&
    a.resolves === b.resolves &&
    (a.hand === null) === (b.hand === null) &&
    Math.round(a.share * 200) === Math.round(b.share * 200) &&
    Math.round(a.turns * 100) === Math.round(b.turns * 100)
  );
};

/** The bar is as long as half as much again as called, and begins a quarter before. */
const BAR = { from: -0.25, to: 1.5 } as const;
const place = (share: number): number =>
  (100 * (Math.max(BAR.from, Math.min(BAR.to, share)) - BAR.from)) / (BAR.to - BAR.from);

const WORDS: Readonly<Record<CallProgress['verdict'], string>> = {
  'not begun': 'not begun',
  'under way': 'under way',
  reached: 'reached',
  over: 'over',
  'wrong sense': 'wrong sense',
};

const ProgressBar = ({ progress }: { readonly progress: CallProgress }): ReactElement => (
  <div className={styles['progress']} data-verdict={progress.verdict}>
    <div
      className={styles['track']}
      role="progressbar"
      aria-label="Progress of the call"
      aria-valuemin={0}
      aria-valuemax={100}
      aria-valuenow={Math.max(0, Math.min(100, Math.round(100 * progress.share)))}
      aria-valuetext={WORDS[progress.verdict]}
    >
      <span
        className={styles['done']}
        style={{
          left: `${place(Math.min(0, progress.share))}%`,
          width: `${Math.abs(place(progress.share) - place(0))}%`,
        }}
      />
      <span className={styles['zero']} style={{ left: `${place(0)}%` }} />
      <span className={styles['goal']} style={{ left: `${place(1)}%` }} />
    </div>
    <p>
      <strong>{WORDS[progress.verdict]}</strong> {fixed(progress.turns, 2)} turns by the loads, ±
      {fixed(progress.u, 2)}
      {progress.hand === null ? '' : '; somebody leans on the car or lifts it'}
    </p>
  </div>
);

/** One call, huge, with how far it is by the loads themselves. */
export const TurnNow = ({
  question,
  call,
  isRaised,
  now,
  before,
  friction,
  unit,
  onDone,
  onLeave,
}: {
  readonly question: string;
  readonly call: Call;
  /** The car is up: there are no loads to follow. */
  readonly isRaised: boolean;
  readonly now: AdjustmentNow;
  readonly before: AdjustReading;
  readonly friction: number;
  readonly unit: MassUnit;
  readonly onDone: () => void;
  readonly onLeave: () => void;
}): ReactElement => {
  const [hasSound, setSound] = useState(false);
  const adjuster = now.adjusters[call.corner];
  const watched = useMemo(
    () =>
      watchCall({
        call,
        adjuster,
        response: now.response,
        before,
        friction: perCorner(() => friction),
      }),
    [call, adjuster, now.response, before, friction],
  );
  const select = useCallback(
    (frame: Frame | null): Progress => {
      if (isRaised) return null;
      return 'call' in watched ? callProgress(watched, loadsNow(frame, before)) : watched;
    },
    [watched, before, isRaised],
  );
  const progress = useFrame(select, looksSame);
  useCallSound(hasSound, progress?.ok ? progress.remaining : null);
  if (!adjuster) return <p>This corner has no adjuster any more. Enter it with the car.</p>;
  const turns = turnsInWords(call.steps, adjuster);
  return (
    <>
      <AnswerHead
        question={question}
        answer={adjustAnswer({ at: 'turning', call, adjuster, progress }, unit)}
      />
      <section className={styles['huge']} aria-label="Call">
        <p className={styles['corner']}>{CORNER_NAMES[call.corner]}</p>
        <p className={styles['much']}>
          <span aria-hidden="true">{call.steps > 0 ? '▲' : '▼'}</span> {turns}{' '}
          {call.steps > 0 ? 'up' : 'down'}
        </p>
        {progress?.ok ? <ProgressBar progress={progress} /> : null}
        <div className={styles['caution']}>
          <CautionText step={isRaised ? 'before a spring is freed' : 'before reaching in'} />
        </div>
        {isRaised ? <p>The car is up, so the pads cannot follow: count the turns.</p> : null}
      </section>
      <div className={styles['actions']}>
        <PushButton onPress={() => setSound(!hasSound)} aria-pressed={hasSound}>
          {hasSound ? 'Sound off' : 'Sound on'}
        </PushButton>
        <PushButton onPress={onLeave}>Leave it</PushButton>
        <PushButton look="main" onPress={onDone}>
          Done
        </PushButton>
      </div>
    </>
  );
};
