import type { ReactElement } from 'react';
import { stepAtHand } from '../../../core/practiceWalk/walkStanding.ts';
import { WALK_STEPS } from '../../../core/practiceWalk/walkSteps.ts';
import { PushButton } from '../../parts/PushButton.tsx';
import type { Place } from '../Shell/places.ts';
import { usePracticeWalk } from './usePracticeWalk.ts';

/** Begins the walk, or goes on where it was left; nothing while one is under way. */
export const WalkButton = ({
  runs,
  onGo,
}: {
  /** How often the practice car has been out. */
  readonly runs: number;
  readonly onGo: (place: Place) => void;
}): ReactElement | null => {
  const walking = usePracticeWalk();
  if (!walking) return null;
  const { kept, begin, tell } = walking;
  if (kept && !kept.walk.isLeft) return null;
  const at = kept ? stepAtHand(kept.walk) : null;
  if (kept && at && at.no > 1)
    return (
      <PushButton
        small
        look="quiet"
        onPress={() => {
          tell({ ...kept.walk, isLeft: false });
          onGo(at.step.place);
        }}
      >
        On with the walk, step {at.no}
      </PushButton>
    );
  return (
    <PushButton
      small
      look="quiet"
      onPress={() => {
        begin(runs);
        if (WALK_STEPS[0]) onGo(WALK_STEPS[0].place);
      }}
    >
      Walk me round the job
    </PushButton>
  );
};
