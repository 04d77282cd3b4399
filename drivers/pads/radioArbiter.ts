import type { Cancel, Scheduler } from '../../core/scheduler.ts';
import { second } from '../../core/units.ts';
import { WAITS } from './deadlines.ts';
import type { Connection, Transport } from './ports.ts';

/**
 * Who may connect next. The radio has one connect outstanding, without a limit of its own; so the
 * queue is here, only the outstanding connect is ever cancelled, and each has a limit: short while
 * others wait, longer while nobody does. A pad that did not answer goes to the back, for it has to
 * queue anew. Open links are not known here, so they cannot be disturbed.
 */

export type ConnectOutcome =
  | { readonly kind: 'connected'; readonly connection: Connection }
  /** Not answered within its time. */
  | { readonly kind: 'absent' }
  | { readonly kind: 'failed'; readonly detail: string }
  | { readonly kind: 'left' };

export interface ConnectRequest {
  readonly key: string;
  /** The radio is this pad's from now on. */
  readonly turnCame: () => void;
  /** The link that was opened has ended. */
  readonly lost: () => void;
}

export interface RadioArbiter {
  /** Queues for a connect; the promise always settles and never rejects. A second request of a key joins the first. */
  connect(request: ConnectRequest): Promise<ConnectOutcome>;
  /** Leaves the queue, or gives the outstanding connect up. */
  leave(key: string): void;
  /** Everybody leaves: the radio is gone or the driver stops. */
  clear(): void;
}

interface Waiting {
  readonly request: ConnectRequest;
  readonly promise: Promise<ConnectOutcome>;
  readonly settle: (outcome: ConnectOutcome) => void;
  gaveUp: boolean;
  since: number;
  cancelTimer: Cancel;
}

const detailOf = (error: unknown): string =>
  error instanceof Error ? error.message : String(error);

/** Makes the arbiter of one transport. */
export const createRadioArbiter = (
  transport: Pick<Transport, 'connect' | 'cancelConnect'>,
  scheduler: Scheduler,
): RadioArbiter => {
  const queue: Waiting[] = [];
  let outstanding: Waiting | null = null;

  const finish = (waiting: Waiting, outcome: ConnectOutcome): void => {
    waiting.cancelTimer();
    waiting.settle(outcome);
    if (outstanding !== waiting) return;
    outstanding = null;
    next();
  };

  /** Cancels the outstanding connect; it settles as `outcome`, at the latest after the grace. */
  const giveUp = (outcome: ConnectOutcome): void => {
    const waiting = outstanding;
    if (!waiting || waiting.gaveUp) return;
    waiting.gaveUp = true;
    waiting.cancelTimer();
    // Settled for the pad at once; the radio is only free when the library says so or the grace is over.
    waiting.settle(outcome);
    waiting.cancelTimer = scheduler.after('radio: cancel grace', second(WAITS.cancelGrace), () =>
      finish(waiting, outcome),
    );
    transport.cancelConnect();
  };

  /** Sets the outstanding connect's limit anew: it is shorter while somebody waits. */
  const limit = (): void => {
    const waiting = outstanding;
    if (!waiting || waiting.gaveUp) return;
    waiting.cancelTimer();
    const allowed = queue.length > 0 ? WAITS.connectTurn : WAITS.connectAlone;
    const left = Math.max(0, waiting.since + allowed - scheduler.now());
    waiting.cancelTimer = scheduler.after(
      `radio: connect ${waiting.request.key}`,
      second(left),
      () => giveUp({ kind: 'absent' }),
    );
  };

  const open = async (waiting: Waiting): Promise<void> => {
    let ended = false;
    try {
      const connection = await transport.connect(waiting.request.key, () => {
        ended = true;
        waiting.request.lost();
      });
      if (waiting.gaveUp) {
        // It answered after it was given up: nobody is there to use it.
        await Promise.resolve(connection.close()).catch(() => undefined);
        finish(waiting, { kind: 'absent' });
      } else if (ended) finish(waiting, { kind: 'failed', detail: 'the link ended at once' });
      else finish(waiting, { kind: 'connected', connection });
    } catch (error) {
      finish(waiting, { kind: 'failed', detail: detailOf(error) });
    }
  };

  const next = (): void => {
    if (outstanding) return;
    const waiting = queue.shift();
    if (!waiting) return;
    outstanding = waiting;
    waiting.since = scheduler.now();
    limit();
    waiting.request.turnCame();
    if (outstanding === waiting && !waiting.gaveUp) void open(waiting);
  };

  const leave = (key: string): void => {
    const place = queue.findIndex((waiting) => waiting.request.key === key);
    const [waiting] = place < 0 ? [] : queue.splice(place, 1);
    if (waiting) {
      waiting.settle({ kind: 'left' });
      limit();
    } else if (outstanding?.request.key === key) giveUp({ kind: 'left' });
  };

  return {
    connect: (request) => {
      const same = [...(outstanding && !outstanding.gaveUp ? [outstanding] : []), ...queue].find(
        (waiting) => waiting.request.key === request.key,
      );
      if (same) return same.promise;
      const { promise, resolve } = Promise.withResolvers<ConnectOutcome>();
      const waiting: Waiting = {
        request,
        promise,
        settle: resolve,
        gaveUp: false,
        since: 0,
        cancelTimer: () => undefined,
      };
      queue.push(waiting);
      if (outstanding) limit();
      else next();
      return promise;
    },
    leave,
    clear: () => {
      for (const waiting of queue.splice(0)) waiting.settle({ kind: 'left' });
      giveUp({ kind: 'left' });
    },
  };
};
