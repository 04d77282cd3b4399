import type { Cancel, Scheduler } from '../../core/scheduler.ts';
import { second } from '../../core/units.ts';
import { backOff } from './backOff.ts';
import { WAITS } from './deadlines.ts';

/** The one timer of a link's state, and the durations of its back-off. */
export interface LinkTimer {
  wait(seconds: number): void;
  /** Waits for the next duration of the back-off. */
  backOff(): void;
  /** Ends the back-off `least` seconds after it began, or now if that is past; never later than it would. */
  shorten(least: number): void;
  cancel(): void;
  /** The link was good: the next back-off is a first one. */
  proven(): void;
}

/** Makes a link's timer. */
export const createLinkTimer = (options: {
  readonly key: string;
  readonly scheduler: Scheduler;
  readonly random: () => number;
  readonly timeUp: () => void;
}): LinkTimer => {
  const { key, scheduler, random, timeUp } = options;
  const fresh = () => backOff({ first: WAITS.backOffFirst, longest: WAITS.backOffLongest, random });
  let durations = fresh();
  let began = 0;
  let ends = 0;
  let cancelTimer: Cancel = () => undefined;

  const wait = (seconds: number): void => {
    cancelTimer();
    cancelTimer = scheduler.after(`${key}: link`, second(seconds), timeUp);
  };

  return {
    wait,
    backOff: () => {
      began = scheduler.now();
      const { value } = durations.next();
      ends = began + value;
      wait(value);
    },
    shorten: (least) => {
      const sooner = Math.max(began + least, scheduler.now());
      if (sooner >= ends) return;
      ends = sooner;
      wait(sooner - scheduler.now());
    },
    cancel: () => cancelTimer(),
    proven: () => {
      durations = fresh();
    },
  };
};
