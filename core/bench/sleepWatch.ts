import { LIVE_FOR } from '../reading.ts';

/**
 * Notices that the computer slept. On Linux and macOS the monotonic clock stands still meanwhile, so
 * a reading of an hour ago looks new; the wall clock went on. A wall clock that is set on looks the
 * same and costs no more than settling anew; one that is set back is nothing.
 */
export type SleepWatch = () => number;

/** Gives the seconds slept since the last call, 0 where it was not longer than a reading is live. */
export const createSleepWatch = (clocks: {
  /** Host monotonic, s. */
  readonly now: () => number;
  /** ms. */
  readonly wallClock: () => number;
}): SleepWatch => {
  const ahead = (): number => clocks.wallClock() / 1000 - clocks.now();
  let before = ahead();
  return () => {
    const by = ahead() - before;
    before += by;
    return by > LIVE_FOR ? by : 0;
  };
};
