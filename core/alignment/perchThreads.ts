import { measured, type Measured } from '../measured.ts';
import { fromResolution } from '../uncertainty/standardUncertainty.ts';
import { found, refused, type Outcome } from './outcome.ts';

/** More threads than any perch has. Common practice, no source. */
const MOST_THREADS = 200;

/**
 * Length of thread that is counted at a spring perch, metre: threads times pitch. A count that is taken
 * to the nearest `step` of a turn (a quarter, say) is uncertain by step/√12.
 */
export const perchThreads = (counted: {
  readonly threads: number;
  readonly step: number;
  readonly pitch: number;
}): Outcome<Measured> => {
  const { threads, step, pitch } = counted;
  if (!(threads >= 0 && threads <= MOST_THREADS))
    return refused(
      'No perch shows that many threads.',
      'Count the turns of thread that are free; type a length in its own field.',
    );
  if (!(step > 0 && step <= 1 && pitch > 0 && pitch < 0.02))
    return refused(
      'The pitch of the perch or the step of the count is not one.',
      'Give the pitch in the car: one to three millimetres a turn is usual.',
    );
  return found(measured(threads * pitch, fromResolution(step) * pitch, Infinity));
};
