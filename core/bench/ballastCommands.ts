import { checkBallast } from '../scrutineering/ballastProblem.ts';
import { DONE, refuse, type Handlers } from './answering.ts';

/** Planning ballast: begun and ended by any screen, seen by all. */

export const BALLAST_HANDLERS: Handlers<'plan ballast' | 'cancel ballast'> = {
  'plan ballast': (bench, { problem }) => {
    const wrong = checkBallast(problem);
    if (wrong.length > 0) return refuse(wrong.join(' '), 'Correct it, then plan again.');
    bench.ballast.begin(problem);
    return DONE;
  },
  'cancel ballast': async (bench) => {
    await bench.ballast.cancel();
    return DONE;
  },
};
