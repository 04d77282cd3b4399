import { useMemo, useState, type ReactElement } from 'react';
import {
  isCarRaised,
  lastReading,
  stepOf,
  withCallLeft,
  withReading,
  withStepDone,
  type AdjustmentNow,
} from '../../../core/adjust/adjustment.ts';
import type { AdjustRefusal } from '../../../core/adjust/refusal.ts';
import { restBand } from '../../../core/adjust/restBand.ts';
import { settledReading } from '../../../core/adjust/settledReading.ts';
import { adjustAnswer } from '../../../core/answers/adjustAnswer.ts';
import { adjustSeen } from '../../../core/answers/adjustStanding.ts';
import type { Adjustment } from '../../../core/contract/adjustment.ts';
import type { BenchState, Frame } from '../../../core/contract/events.ts';
import type { Measured } from '../../../core/measured.ts';
import { AnswerHead } from '../../parts/AnswerHead.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { CarAdjusters } from './CarAdjusters.tsx';
import { CrewNow } from './CrewNow.tsx';
import { Planned } from './Planned.tsx';
import styles from './Screen.module.css';
import { TurnNow } from './TurnNow.tsx';
import type { Adjusting } from './useAdjustment.ts';

/** An adjustment at work: the plan, or the call that is being made. */
export const Working = ({
  question,
  state,
  adjusting,
  adjustment,
  now,
}: {
  readonly question: string;
  readonly state: BenchState;
  readonly adjusting: Adjusting;
  readonly adjustment: Adjustment;
  readonly now: AdjustmentNow | AdjustRefusal;
}): ReactElement => {
  const [heights, setHeights] = useState<readonly (Measured | null)[]>([]);
  const { massUnit } = state.settings;
  const { keep } = adjusting;
  const band = useMemo(() => (now.ok ? restBand(adjustment, now) : null), [adjustment, now]);
  const read = (frame: Frame | null): void => {
    const after = settledReading(frame, {
      gravity: state.gravity,
      heights: adjustment.targets.heights.map((_, i) => heights[i] ?? null),
      settled: adjustment.open?.settled ?? 'as it came',
    });
    if (!after) return;
    keep(withReading(state.car, adjustment, after));
    setHeights([]);
  };

  const answer = adjustAnswer(adjustSeen(adjustment, now), massUnit);
  if (!now.ok)
    return (
      <>
        <AnswerHead question={question} answer={answer} />
        <div className={styles['part']}>
          <h2>The car’s adjusters</h2>
          <CarAdjusters state={state} />
        </div>
        <div className={styles['actions']}>
          <PushButton onPress={() => keep({ ...adjustment, isOver: true })}>
            End this adjustment
          </PushButton>
        </div>
      </>
    );
  const step = stepOf(adjustment);
  if (step?.do === 'turn')
    return (
      <TurnNow
        key={adjustment.open?.at}
        question={question}
        call={step.call}
        isRaised={isCarRaised(adjustment)}
        now={now}
        before={lastReading(adjustment)}
        friction={adjustment.friction}
        unit={massUnit}
        onDone={() => keep(withStepDone(adjustment))}
        onLeave={() => keep(withCallLeft(adjustment))}
      />
    );
  if (step)
    return (
      <CrewNow
        question={question}
        step={step.do}
        answer={answer}
        band={band}
        onDone={(settled) => keep(withStepDone(adjustment, settled))}
        onReading={read}
        onLeave={() => keep({ ...adjustment, open: null })}
      />
    );
  return (
    <Planned
      question={question}
      answer={answer}
      state={state}
      adjusting={adjusting}
      adjustment={adjustment}
      now={now}
      band={band}
      heights={heights}
      onHeights={setHeights}
      onRead={read}
    />
  );
};
