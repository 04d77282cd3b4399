import type { Cancel, Scheduler } from '../../core/scheduler.ts';
import { second } from '../../core/units.ts';

/**
 * A driven clock of a computer that can sleep. Like the real one (electron/clock.ts), a repeating
 * timer that was slept through runs once and keeps its phase.
 */
export interface SleepingClock extends Scheduler {
  advance(by: number): void;
  /** So much passes and no timer runs; those that fell due run when time is moved on again. */
  sleep(by: number): void;
}

interface Timer {
  due: number;
  readonly period: number | null;
  readonly run: () => void;
}

/** Makes one that stands at 0. */
export const createSleepingClock = (): SleepingClock => {
  let now = 0;
  const timers = new Set<Timer>();
  const add = (delay: number, period: number | null, run: () => void): Cancel => {
    const timer: Timer = { due: now + Math.max(0, delay), period, run };
    timers.add(timer);
    return () => timers.delete(timer);
  };
  const firstDue = (limit: number): Timer | null => {
    let first: Timer | null = null;
    for (const timer of timers)
      if (timer.due <= limit && (!first || timer.due < first.due)) first = timer;
    return first;
  };
  return {
    now: () => second(now),
    after: (_name, delay, run) => add(delay, null, run),
    every: (_name, period, run) => add(period, period, run),
    advance: (by) => {
      const end = now + by;
      for (let timer = firstDue(end); timer; timer = firstDue(end)) {
        now = Math.max(now, timer.due);
        if (timer.period === null) timers.delete(timer);
        else timer.due += (1 + Math.floor((now - timer.due) / timer.period)) * timer.period;
        timer.run();
      }
      now = end;
    },
    sleep: (by) => {
      now += by;
    },
  };
};
