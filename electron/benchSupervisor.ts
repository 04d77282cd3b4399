import type { Cancel, Scheduler } from '../core/scheduler.ts';
import { second, type Second } from '../core/units.ts';
import type { FromBench, Gate, ToBench } from './gate.ts';
import { createScreenBook, type Screen } from './screenBook.ts';

/**
 * Keeps the bench process running and the screens joined to it. It knows processes and text; of
 * the contract it knows only what the screen book needs to join a screen again.
 */

/** A bench process that was started. */
export interface BenchChild {
  send(message: ToBench): void;
  /** Ends it at once. */
  kill(): void;
}

export interface BenchChildListener {
  message(message: unknown): void;
  /** Called once, however it ended; `how` is for the log. */
  exited(how: string): void;
}

/** Starts a bench process; `restarted` makes it report `bench-restarted`. */
export type SpawnBench = (
  options: { readonly restarted: boolean },
  listener: BenchChildListener,
) => BenchChild;

export interface ScreenLink {
  /** Takes one request of the screen as text. */
  receive(text: string): void;
  leave(): void;
}

export interface BenchSupervisor {
  join(send: (text: string) => void): ScreenLink;
  /** Ends the bench process cleanly, by force after its deadline. */
  stop(): Promise<void>;
}

/** Waits before each start anew: doubling, then steady. Common practice, no source. */
export function* restartDelays(): Generator<Second, never> {
  for (let wait = 0.25; ; wait = Math.min(wait * 2, 8)) yield second(wait);
}

/** A bench that ran this long had started well: the next wait is short again. */
const STEADY = second(60);
/** From start to `ready`: opening the database may migrate it. */
const READY_DEADLINE = second(30);
/** From `stop` to the end of the process: a capture may be on its way to the disk. */
const STOP_DEADLINE = second(8);

/** Starts the bench process and keeps it running until stopped. */
export const createBenchSupervisor = (options: {
  readonly spawn: SpawnBench;
  readonly scheduler: Scheduler;
  readonly gate: Gate;
  readonly log: (line: string) => void;
}): BenchSupervisor => {
  const { spawn, scheduler, gate, log } = options;
  let child: BenchChild | null = null;
  let ready = false;
  let startedAt = scheduler.now();
  let delays = restartDelays();
  let cancelTimer: Cancel = () => undefined;
  let stopped: Promise<void> | null = null;
  let settleStop: (() => void) | null = null;

  const send = (message: ToBench): void => child?.send(message);
  const book = createScreenBook({ send, isReady: () => ready });

  const heard = (message: FromBench): void => {
    if (message.kind === 'text') book.deliver(message.screen, message.text);
    else if (message.kind === 'refused')
      log(`the bench refused a message of screen ${message.screen}: ${message.why}`);
    else if (!ready) {
      cancelTimer();
      ready = true;
      book.rejoin();
    }
  };

  const start = (restarted: boolean): void => {
    startedAt = scheduler.now();
    let over = false;
    const started = spawn(
      { restarted },
      {
        message: (message) => {
          if (over) return;
          const admitted = gate.admit('from bench', { is: 'process' }, message);
          if (admitted.ok) heard(admitted.payload);
        },
        exited: (how) => {
          if (over) return;
          over = true;
          ended(how);
        },
      },
    );
    // A process that could not even be started has already said that it ended.
    if (over) return;
    child = started;
    cancelTimer = scheduler.after('bench ready', READY_DEADLINE, () => {
      log('the measuring process did not get ready in time');
      started.kill();
    });
  };

  const ended = (how: string): void => {
    cancelTimer();
    child = null;
    ready = false;
    if (settleStop) {
      settleStop();
      return;
    }
    book.refuseWaiting();
    if (scheduler.now() - startedAt >= STEADY) delays = restartDelays();
    const wait = delays.next().value;
    log(`the measuring process ended (${how}); it is started again in ${wait} s`);
    cancelTimer = scheduler.after('bench restart', wait, () => start(true));
  };

  const stop = (): Promise<void> =>
    (stopped ??= new Promise((resolve) => {
      cancelTimer();
      const running = child;
      if (!running) {
        settleStop = () => undefined;
        resolve();
        return;
      }
      const forced = scheduler.after('bench stop', STOP_DEADLINE, () => {
        log('the measuring process did not stop in time and is ended');
        running.kill();
        resolve();
      });
      settleStop = () => {
        forced();
        resolve();
      };
      running.send({ kind: 'stop' });
    }));

  start(false);
  return {
    join: (sendText) => {
      const screen: Screen = book.add(sendText);
      return {
        receive: (text) => book.receive(screen, text),
        leave: () => book.remove(screen),
      };
    },
    stop,
  };
};
