import type { Scheduler } from '../../core/scheduler.ts';
import { second } from '../../core/units.ts';

/** A scheduler on the machine's own clock, for what runs real sockets in a child process. */
export const createRealScheduler = (): Scheduler => ({
  now: () => second(performance.now() / 1000),
  after: (_name, delay, run) => {
    const timer = setTimeout(run, delay * 1000);
    return () => clearTimeout(timer);
  },
  every: (_name, period, run) => {
    const timer = setInterval(run, period * 1000);
    return () => clearInterval(timer);
  },
});
