import type { Scheduler } from '../../../core/scheduler.ts';
import { second } from '../../../core/units.ts';
import type { Connection, Transport } from '../../../drivers/pads/ports.ts';

/** What a fake radio was asked, in order: `connect a`, `cancel`, `close a`. */
export interface FakeTransport extends Pick<Transport, 'connect' | 'cancelConnect'> {
  readonly log: string[];
  /** Largest number of connects that were outstanding together. */
  mostOutstanding(): number;
  lose(key: string): void;
}

/**
 * A radio by script: `answers` says after how long a key connects, s; a key that is not in it never
 * does, and a cancelled connect settles only if `settlesCancelled`.
 */
export const createFakeTransport = (
  scheduler: Scheduler,
  answers: Readonly<Record<string, number>>,
  { settlesCancelled = true } = {},
): FakeTransport => {
  const log: string[] = [];
  const lost = new Map<string, () => void>();
  let outstanding = 0;
  let most = 0;
  let fail: ((why: Error) => void) | null = null;
  return {
    log,
    mostOutstanding: () => most,
    lose: (key) => lost.get(key)?.(),
    connect: (key, whenLost) => {
      log.push(`connect ${key}`);
      most = Math.max(most, ++outstanding);
      const { promise, resolve, reject } = Promise.withResolvers<Connection>();
      const connection: Connection = {
        discover: () => Promise.resolve([]),
        read: () => Promise.resolve(new Uint8Array()),
        write: () => Promise.resolve(),
        subscribe: () => Promise.resolve(),
        signal: () => Promise.resolve(null),
        close: () => {
          log.push(`close ${key}`);
          return Promise.resolve();
        },
      };
      const after = answers[key];
      const cancel =
        after === undefined
          ? () => undefined
          : scheduler.after(`fake connect ${key}`, second(after), () => {
              outstanding--;
              lost.set(key, whenLost);
              resolve(connection);
            });
      fail = (why) => {
        if (!settlesCancelled) return;
        outstanding--;
        cancel();
        reject(why);
      };
      return promise;
    },
    cancelConnect: () => {
      log.push('cancel');
      fail?.(new Error('given up'));
    },
  };
};
