import type { FaultCode } from '../../core/faults.ts';
import type { Scheduler } from '../../core/scheduler.ts';
import { second } from '../../core/units.ts';

/**
 * What is asked of one connected pad, one thing at a time, each raced with the loss of the link and
 * a deadline. Radio libraries complete a read on *the next* event of its kind and settle nothing
 * after a loss; so after an operation that was late no other is begun on that link.
 */

export type Done<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly why: FaultCode; readonly detail: string };

export interface Operations {
  /** Runs `act` when all before it are done. Settles always, never rejects. */
  run<T>(what: string, deadline: number, act: () => Promise<T>): Promise<Done<T>>;
  /** The link is gone: everything that waits settles with `pad-lost`, now and later. */
  lose(): void;
}

/** Makes the queue of one link. */
export const createOperations = (name: string, scheduler: Scheduler): Operations => {
  let over: { readonly why: FaultCode; readonly detail: string } | null = null;
  let last: Promise<unknown> = Promise.resolve();
  /** Settles the one that is under way as lost; nothing of those before it is held. */
  let lost: (() => void) | null = null;

  const race = <T>(what: string, deadline: number, act: () => Promise<T>): Promise<Done<T>> => {
    if (over) return Promise.resolve({ ok: false, ...over });
    const { promise, resolve } = Promise.withResolvers<Done<T>>();
    const cancel = scheduler.after(`${name}: ${what}`, second(deadline), () => {
      over ??= { why: 'pad-step-late', detail: `${what} took more than ${deadline} s` };
      resolve({ ok: false, ...over });
    });
    lost = () => resolve({ ok: false, why: 'pad-lost', detail: what });
    // Inside a chain, so that an `act` that throws at once is a rejection like any other.
    void Promise.resolve()
      .then(act)
      .then(
        (value) => resolve({ ok: true, value }),
        (error: unknown) =>
          resolve({
            ok: false,
            why: 'pad-command-refused',
            detail: `${what}: ${error instanceof Error ? error.message : String(error)}`,
          }),
      );
    return promise.finally(() => {
      cancel();
      lost = null;
    });
  };

  return {
    run: (what, deadline, act) => {
      const done = last.then(() => race(what, deadline, act));
      last = done;
      return done;
    },
    lose: () => {
      over = { why: 'pad-lost', detail: 'the link ended' };
      lost?.();
    },
  };
};
