import { CORNERS } from '../corners.ts';
import type { Memory } from './memory.ts';
import type { PracticePort } from './ports.ts';

/**
 * What the practice rig does by itself after it is chosen, one thing at a tick: each pad to its
 * corner, the zero once all four lie still, then the car comes down. From there on it is the
 * newcomer's.
 */
export interface PracticeOpening {
  /** Does the next thing if its time has come. */
  tick(now: { readonly allSettled: boolean; readonly zero: () => boolean }): void;
}

/** Makes the opening for a practice car that stands raised. */
export const createPracticeOpening = (memory: Memory, practice: PracticePort): PracticeOpening => {
  let done = false;
  return {
    tick: ({ allSettled, zero }) => {
      if (done) return;
      if (practice.state().car !== 'raised') {
        done = true;
        return;
      }
      for (const corner of CORNERS)
        if (memory.assigned[corner] === null) memory.assign(practice.pads[corner], corner);
      if (!allSettled) return;
      if (!zero()) return;
      practice.lower();
      done = true;
    },
  };
};
