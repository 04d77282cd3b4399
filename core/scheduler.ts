import { second, type Second } from './units.ts';

/** Takes back what it was returned for; calling it twice does nothing more. */
export type Cancel = () => void;

/**
 * Time as an argument: whoever waits is handed one of these. Timers are named, so that one left
 * running can be reported by name. Time is monotonic; wall-clock time is only ever a label.
 */
export interface Scheduler {
  now(): Second;
  after(name: string, delay: Second, run: () => void): Cancel;
  every(name: string, period: Second, run: () => void): Cancel;
}

/** A scheduler that stands still until it is moved: for tests, rehearsals and simulated days. */
export interface DrivenScheduler extends Scheduler {
  /** Moves time on, running every timer that falls due, in order of time. */
  advance(by: Second): void;
  /** Names of the timers that are waiting: what was started and not stopped. */
  waiting(): readonly string[];
}

interface Waiting {
  readonly name: string;
  due: number;
  readonly order: number;
  readonly period: number | null;
  readonly run: () => void;
}

/** Makes a scheduler whose clock starts at `start` seconds. */
export const createDrivenScheduler = (start: Second = second(0)): DrivenScheduler => {
  let now: number = start;
  let order = 0;
  const timers = new Set<Waiting>();

  const add = (name: string, delay: number, period: number | null, run: () => void): Cancel => {
    const timer: Waiting = { name, due: now + Math.max(0, delay), order: order++, period, run };
    timers.add(timer);
    return () => timers.delete(timer);
  };

  const nextDue = (limit: number): Waiting | null => {
    let first: Waiting | null = null;
    for (const timer of timers) {
      if (timer.due > limit) continue;
      if (!first || timer.due < first.due || (timer.due === first.due && timer.order < first.order))
        first = timer;
    }
    return first;
  };

  return {
    now: () => second(now),
    after: (name, delay, run) => add(name, delay, null, run),
    every: (name, period, run) => {
      if (!(period > 0)) throw new RangeError(`timer ${name}: a period must be above zero`);
      return add(name, period, period, run);
    },
    advance: (by) => {
      const end = now + by;
      for (let timer = nextDue(end); timer; timer = nextDue(end)) {
        now = Math.max(now, timer.due);
        if (timer.period === null) timers.delete(timer);
        else timer.due += timer.period;
        timer.run();
      }
      now = end;
    },
    waiting: () => [...timers].map((timer) => timer.name),
  };
};
