import { useMemo, useState, type ReactElement } from 'react';
import {
  choiceOf,
  withSteps,
  withUndo,
  type AdjustmentNow,
} from '../../../core/adjust/adjustment.ts';
import { cornerTold } from '../../../core/adjust/cornerTold.ts';
import { cornersTurned } from '../../../core/adjust/plan.ts';
import type { RestBand } from '../../../core/adjust/restBand.ts';
import { isSettledReading } from '../../../core/adjust/settledReading.ts';
import { adjustAnswer } from '../../../core/answers/adjustAnswer.ts';
import type { Answer } from '../../../core/answers/answer.ts';
import type { Adjustment } from '../../../core/contract/adjustment.ts';
import type { BenchState, Frame } from '../../../core/contract/events.ts';
import type { Measured } from '../../../core/measured.ts';
import { adjustWorked } from '../../../core/help/adjustWorked.ts';
import { useClient, useFrame } from '../../live/useLive.tsx';
import { AnswerHead } from '../../parts/AnswerHead.tsx';
import { Choice } from '../../parts/Choice.tsx';
import { HowWorkedOut } from '../../parts/HowWorkedOut.tsx';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { CarAdjusters } from './CarAdjusters.tsx';
import { BarCheck } from './BarCheck.tsx';
import { CallsMade } from './CallsMade.tsx';
import { Choices } from './Choices.tsx';
import { HeightFields } from './HeightFields.tsx';
import { ResponseTable } from './ResponseTable.tsx';
import styles from './Screen.module.css';
import { TargetFields } from './TargetFields.tsx';
import type { Adjusting } from './useAdjustment.ts';
import { WhatIf } from './WhatIf.tsx';

const PARTS = [
  { value: 'plan', text: 'Plan' },
  { value: 'response', text: 'Response' },
  { value: 'what if', text: 'What if' },
  { value: 'targets', text: 'Targets' },
  { value: 'bars', text: 'Bars' },
  { value: 'car', text: 'Adjusters' },
] as const;
type Part = (typeof PARTS)[number]['value'];

/** The plan from the newest reading, what was learnt, and what else may be asked. */
export const Planned = ({
  question,
  answer,
  state,
  adjusting,
  adjustment,
  now,
  band,
  heights,
  onHeights,
  onRead,
}: {
  readonly question: string;
  readonly answer: Answer;
  readonly state: BenchState;
  readonly adjusting: Adjusting;
  readonly adjustment: Adjustment;
  readonly now: AdjustmentNow;
  readonly band: RestBand | null;
  readonly heights: readonly (Measured | null)[];
  readonly onHeights: (next: readonly (Measured | null)[]) => void;
  readonly onRead: (frame: Frame | null) => void;
}): ReactElement => {
  const client = useClient();
  const isSettled = useFrame(isSettledReading);
  const [part, setPart] = useState<Part>('plan');
  const { massUnit } = state.settings;
  const { keep } = adjusting;
  const { plan, adjusters } = now;
  const points = now.targets.heights.map(({ point }) => point.name);
  const choice = plan.ok ? choiceOf(plan, adjustment.choice) : plan;
  const told = useMemo(() => cornerTold(adjustment, now), [adjustment, now]);
  const notes: readonly Answer[] = [
    ...(now.disagreement
      ? [adjustAnswer({ at: 'disagrees', disagreement: now.disagreement }, massUnit)]
      : []),
    ...(told ? [adjustAnswer({ at: 'which corner', ...told, points }, massUnit)] : []),
  ];
  const canCall = choice.ok && cornersTurned(choice).length > 0;
  return (
    <>
      <AnswerHead question={question} answer={answer} />
      {notes.map(({ about, text, tone }) => (
        <p key={about} className={styles['said']} data-tone={tone} role="note">
          {text}
        </p>
      ))}
      <div className={styles['bar']}>
        <Choice
          label="Part of the screen"
          labelUnseen
          options={PARTS}
          value={part}
          onChange={setPart}
        />
        <NoteLine note={adjusting.note} />
      </div>
      <div className={styles['part']}>
        {part === 'plan' && plan.ok ? (
          <Choices
            plan={plan}
            now={now}
            state={state}
            chosen={adjustment.choice}
            onChoose={(name) => keep({ ...adjustment, choice: name })}
          />
        ) : null}
        {part === 'plan' && !plan.ok ? <p className={styles['help']}>{plan.why}</p> : null}
        {part === 'response' ? (
          <>
            <>
              <ResponseTable now={now} band={band} state={state} />
              <HowWorkedOut
                worked={() =>
                  adjustWorked(now, {
                    labels: state.settings.cornerLabels,
                    massUnit: state.settings.massUnit,
                  })
                }
              />
            </>
            <CallsMade adjustment={adjustment} now={now} state={state} />
          </>
        ) : null}
        {part === 'what if' ? <WhatIf now={now} state={state} /> : null}
        {part === 'targets' ? (
          <>
            <TargetFields
              wishes={adjustment}
              state={state}
              onChange={({ targets, bars, friction }) =>
                keep({ ...adjustment, targets, bars, friction })
              }
            />
            <HeightFields goals={now.targets.heights} typed={heights} onChange={onHeights} />
          </>
        ) : null}
        {part === 'bars' ? <BarCheck state={state} friction={adjustment.friction} /> : null}
        {part === 'car' ? <CarAdjusters state={state} /> : null}
      </div>
      <div className={styles['actions']}>
        <PushButton onPress={() => keep({ ...adjustment, isOver: true })}>End</PushButton>
        <PushButton
          isDisabled={!adjustment.rounds.some(({ calls }) => calls.length > 0)}
          onPress={() => keep(withUndo(adjustment, adjusters))}
        >
          Undo the last call
        </PushButton>
        <PushButton isDisabled={!isSettled} onPress={() => onRead(client.live.get())}>
          Read again
        </PushButton>
        <PushButton
          look="main"
          isDisabled={!canCall}
          onPress={() => {
            if (choice.ok) keep(withSteps(adjustment, choice.steps, adjusters));
          }}
        >
          {adjustment.rounds.length > 0 ? 'Next call' : 'Start calls'}
        </PushButton>
      </div>
    </>
  );
};
