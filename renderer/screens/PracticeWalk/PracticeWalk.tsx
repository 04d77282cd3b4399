import { useEffect, useState, type ReactElement } from 'react';
import type { BenchState } from '../../../core/contract/events.ts';
import type { PracticeWalk as Walk } from '../../../core/contract/practiceWalk.ts';
import type { WalkPlace } from '../../../core/practiceWalk/walkFacts.ts';
import {
  stepAtHand,
  walkInWords,
  withStep,
  type WalkKept,
} from '../../../core/practiceWalk/walkStanding.ts';
import { isDone, WALK_STEPS, type WalkStep } from '../../../core/practiceWalk/walkSteps.ts';
import { useClient } from '../../live/useLive.tsx';
import { PushButton } from '../../parts/PushButton.tsx';
import { Tag } from '../../parts/Tag.tsx';
import type { Place } from '../Shell/places.ts';
import styles from './PracticeWalk.module.css';
import { usePracticeWalk } from './usePracticeWalk.ts';
import { useWalkFacts } from './useWalkFacts.ts';

const walkPlace = (place: Place): WalkPlace | null =>
  WALK_STEPS.find((step) => step.place === place)?.place ?? null;

interface StepProps {
  readonly state: BenchState;
  readonly kept: WalkKept;
  readonly no: number;
  readonly step: WalkStep;
  readonly place: Place;
  readonly onGo: (place: Place) => void;
  readonly onTell: (walk: Walk) => void;
}

/** The step at hand. Once it was done it stays so, whatever is done to the car after. */
const Step = ({ state, kept, no, step, place, onGo, onTell }: StepProps): ReactElement => {
  const facts = useWalkFacts(state, kept, walkPlace(place));
  const [wasDone, setDone] = useState(false);
  const isDoneNow = facts !== null && isDone(step, facts);
  useEffect(() => {
    if (isDoneNow) setDone(true);
  }, [isDoneNow]);
  const done = wasDone || isDoneNow;
  const goOn = (how: 'done' | 'skipped'): void => {
    const next = withStep(kept.walk, how);
    onTell(next);
    const after = stepAtHand(next);
    if (after) onGo(after.step.place);
  };
  return (
    <>
      <div className={styles['what']}>
        <p className={styles['where']}>
          <Tag kind="practice">practice walk</Tag> Step {no} of {WALK_STEPS.length}:{' '}
          <strong>{step.name}</strong>
        </p>
        <p className={styles['doing']}>{step.doing}</p>
        <p className={styles['seeing']}>You will see: {step.seeing}</p>
        <p className={styles['awaits']} role="status" data-done={done}>
          {done ? (
            <>
              <svg width="16" height="14" viewBox="0 0 16 14" aria-hidden="true">
                <path
                  d="M1.5 7.5 6 12 14.5 2"
                  fill="none"
                  stroke="currentColor"
                  strokeWidth="2.4"
                />
              </svg>
              Done. Look at it as long as you like.
            </>
          ) : (
            ((facts && step.awaits(facts)) ?? '')
          )}
        </p>
      </div>
      <div className={styles['buttons']}>
        {done ? (
          <PushButton look="main" onPress={() => goOn('done')}>
            {no < WALK_STEPS.length ? 'Next step' : 'To the end'}
          </PushButton>
        ) : (
          <>
            {place === step.place ? null : (
              <PushButton look="main" small onPress={() => onGo(step.place)}>
                Show me where
              </PushButton>
            )}
            <PushButton small onPress={() => goOn('skipped')}>
              Skip this step
            </PushButton>
          </>
        )}
        <PushButton small look="quiet" onPress={() => onTell({ ...kept.walk, isLeft: true })}>
          Leave the walk
        </PushButton>
      </div>
    </>
  );
};

/** The walk is over: what was done, and the way to real pads. */
const End = ({ kept, onGo, onTell }: Pick<StepProps, 'kept' | 'onGo' | 'onTell'>): ReactElement => {
  const client = useClient();
  const leave = (): void => onTell({ ...kept.walk, isLeft: true });
  return (
    <>
      <div className={styles['end']}>
        <p className={styles['where']}>
          <Tag kind="practice">practice walk</Tag> <strong>That was the whole job.</strong>
        </p>
        <p className={styles['doing']}>{walkInWords(kept.walk)}</p>
        <p className={styles['seeing']}>
          All of it stays with the practice: real records begin empty.
        </p>
      </div>
      <div className={styles['buttons']}>
        <PushButton
          look="main"
          onPress={() => {
            leave();
            void client.command({ do: 'choose pads', source: 'bluetooth' });
            onGo('balance');
          }}
        >
          Begin for real
        </PushButton>
        <PushButton small look="quiet" onPress={leave}>
          Stay in practice
        </PushButton>
      </div>
    </>
  );
};

/** A newcomer’s guide once round the job: it stands above the real screens and waits for what they do. */
export const PracticeWalk = ({
  state,
  place,
  onGo,
}: Pick<StepProps, 'state' | 'place' | 'onGo'>): ReactElement | null => {
  const walking = usePracticeWalk();
  const kept = walking?.kept ?? null;
  if (!walking || !kept || kept.walk.isLeft) return null;
  const at = stepAtHand(kept.walk);
  return (
    <section className={styles['strip']} aria-label="Practice walk">
      {at ? (
        <Step
          key={`${kept.id} ${at.no}`}
          {...at}
          state={state}
          kept={kept}
          place={place}
          onGo={onGo}
          onTell={walking.tell}
        />
      ) : (
        <End kept={kept} onGo={onGo} onTell={walking.tell} />
      )}
    </section>
  );
};
