import { randomBytes } from 'node:crypto';
import type { Cancel, Scheduler } from '../core/scheduler.ts';
import { second } from '../core/units.ts';
import { createIdMaker } from '../core/uuidV7.ts';

/**
 * The only home of the wall clock and of real timers. Everything else is handed a scheduler, so
 * that tests can drive time and a timer left running can be named.
 */

/** A scheduler on the monotonic clock that can say which timers are waiting. */
export interface RealScheduler extends Scheduler {
  waiting(): readonly string[];
}

/** setTimeout takes 31 bits of milliseconds and fires at once beyond them: longer waits are cut. */
const LONGEST_MS = 2 ** 31 - 1;

interface Timer {
  readonly name: string;
  dueMs: number;
  handle: ReturnType<typeof setTimeout> | null;
}

/**
 * Makes the real scheduler. A timer never runs before it is due (setTimeout alone may be up to a
 * millisecond early); a repeating one keeps its phase and skips what a sleeping computer missed.
 */
export const createRealScheduler = (): RealScheduler => {
  const timers = new Set<Timer>();

  const arm = (timer: Timer, fire: () => void): void => {
    const left = timer.dueMs - performance.now();
    timer.handle = setTimeout(
      () => {
        if (performance.now() < timer.dueMs) arm(timer, fire);
        else fire();
      },
      Math.min(LONGEST_MS, Math.max(0, Math.ceil(left))),
    );
  };

  const begin = (name: string, delayMs: number): { timer: Timer; cancel: Cancel } => {
    const timer: Timer = { name, dueMs: performance.now() + Math.max(0, delayMs), handle: null };
    timers.add(timer);
    const cancel = (): void => {
      timers.delete(timer);
      if (timer.handle !== null) clearTimeout(timer.handle);
      timer.handle = null;
    };
    return { timer, cancel };
  };

  return {
    now: () => second(performance.now() / 1000),
    after: (name, delay, run) => {
      const { timer, cancel } = begin(name, delay * 1000);
      arm(timer, () => {
        timers.delete(timer);
        run();
      });
      return cancel;
    },
    every: (name, period, run) => {
      if (!(period > 0)) throw new RangeError(`timer ${name}: a period must be above zero`);
      const periodMs = period * 1000;
      const { timer, cancel } = begin(name, periodMs);
      const fire = (): void => {
        const missed = Math.floor((performance.now() - timer.dueMs) / periodMs);
        timer.dueMs += (1 + Math.max(0, missed)) * periodMs;
        arm(timer, fire);
        run();
      };
      arm(timer, fire);
      return cancel;
    },
    waiting: () => Array.from(timers, (timer) => timer.name),
  };
};

/** Wall-clock label, whole milliseconds since 1970 UTC. Never used to measure a duration. */
export const wallClock = (): number => Date.now();

/** A time of the wall clock in words, UTC (ISO 8601). */
export const utcText = (wallMs: number): string => new Date(wallMs).toISOString();

/** A new UUIDv7. */
export const newId: () => string = createIdMaker({ wallClock, randomBytes });
