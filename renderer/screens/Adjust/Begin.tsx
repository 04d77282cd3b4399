import { useState, type ReactElement } from 'react';
import { checkAdjusters } from '../../../core/adjust/adjuster.ts';
import type { firstTargets } from '../../../core/adjust/firstTargets.ts';
import { isSettledReading, settledReading } from '../../../core/adjust/settledReading.ts';
import { adjustAnswer } from '../../../core/answers/adjustAnswer.ts';
import type { Answer } from '../../../core/answers/answer.ts';
import type { BenchState } from '../../../core/contract/events.ts';
import type { Measured } from '../../../core/measured.ts';
import { adjustersOf } from '../../../core/sheet/adjustersOf.ts';
import { useClient, useFrame } from '../../live/useLive.tsx';
import { AnswerHead } from '../../parts/AnswerHead.tsx';
import { NoteLine } from '../../parts/NoteLine.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { CarAdjusters } from './CarAdjusters.tsx';
import { HeightFields } from './HeightFields.tsx';
import styles from './Screen.module.css';
import { TargetFields, type Wishes } from './TargetFields.tsx';
import type { Adjusting } from './useAdjustment.ts';

/** Friction of a well-kept strut at the wheel, newton; common practice, no source. */
const USUAL_FRICTION = 20;
const READY: Answer = {
  about: 'ready',
  text: 'Settled. Say what is wanted, then read the pads and plan.',
  tone: 'wait',
};

/** Before an adjustment: what is wanted, what the car must have, and the first reading. */
export const Begin = ({
  question,
  state,
  first,
  adjusting,
}: {
  readonly question: string;
  readonly state: BenchState;
  readonly first: ReturnType<typeof firstTargets>;
  readonly adjusting: Adjusting;
}): ReactElement => {
  const client = useClient();
  const isSettled = useFrame(isSettledReading);
  const [typed, setTyped] = useState<Wishes | null>(null);
  const [heights, setHeights] = useState<readonly (Measured | null)[] | null>(null);
  const wishes = typed ?? { targets: first.targets, bars: 'off', friction: USUAL_FRICTION };
  const wrong = checkAdjusters(adjustersOf(state.car));
  const { massUnit } = state.settings;
  const begin = (): void => {
    const start = settledReading(client.live.get(), {
      gravity: state.gravity,
      heights: heights ?? first.heights,
      settled: 'as it came',
    });
    if (!start) return;
    adjusting.keep({
      ...wishes,
      carId: state.car.id,
      start,
      prior: adjusting.lastLearnt,
      rounds: [],
      choice: 'heights kept',
      open: null,
      learnt: null,
      isOver: false,
    });
  };
  return (
    <>
      <AnswerHead
        question={question}
        answer={
          wrong
            ? adjustAnswer({ at: 'refused', refusal: wrong }, massUnit)
            : isSettled
              ? READY
              : adjustAnswer({ at: 'unread' }, massUnit)
        }
      />
      <div className={styles['body']}>
        <div className={styles['part']}>
          <h2>Targets</h2>
          <TargetFields wishes={wishes} state={state} onChange={setTyped} />
          <HeightFields
            goals={wishes.targets.heights}
            typed={heights ?? first.heights}
            onChange={setHeights}
          />
        </div>
        <div className={styles['part']}>
          <h2>The car’s adjusters</h2>
          <CarAdjusters state={state} />
        </div>
      </div>
      <div className={styles['actions']}>
        <NoteLine note={adjusting.note} />
        <PushButton look="main" isDisabled={!isSettled || wrong !== null} onPress={begin}>
          Read the pads and plan
        </PushButton>
      </div>
    </>
  );
};
