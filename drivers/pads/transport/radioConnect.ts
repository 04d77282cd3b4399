import type { Scheduler } from '../../../core/scheduler.ts';
import { second } from '../../../core/units.ts';
import {
  concludeConnect,
  hciStatus,
  LINK_PARAMETERS,
  type RadioLibrary,
  type RadioPeripheral,
} from './radioLibrary.ts';

/**
 * One attempt to connect, and what it takes to be rid of it. The library has one connect
 * outstanding, waits for it without limit, and queues what comes meanwhile where it cannot be
 * cancelled apart; so the next attempt begins only when this one is `over`.
 */

/** Given up by itself after this; the caller's own deadline is shorter. */
const ATTEMPT_DEADLINE = second(20);
/** How long the controller may take to confirm that a connect was cancelled. */
const CANCEL_DEADLINE = second(1);
/** How long a link that nobody wants any more may take to close. */
const UNWANTED_DEADLINE = second(2);

/** "Command Disallowed", Core specification Vol 1 Part F 2.12. */
const COMMAND_DISALLOWED = 0x0c;

export interface Attempt<T> {
  /** What `opened` returned, or the reason why not. */
  readonly outcome: Promise<T>;
  /** Settles when the library has no connect outstanding any more; never rejects. */
  readonly over: Promise<void>;
  cancel(): void;
}

/** Whether the controller would not connect because it is scanning. */
export const isDisallowed = (error: unknown): boolean =>
  error instanceof Error && hciStatus(error) === COMMAND_DISALLOWED;

/** Begins to connect. `opened` is called in the same turn in which the link opens. */
export const attemptConnect = <T>(
  library: RadioLibrary,
  peripheral: RadioPeripheral,
  scheduler: Scheduler,
  opened: () => T,
): Attempt<T> => {
  const outcome = Promise.withResolvers<T>();
  const over = Promise.withResolvers<void>();
  let cancelled = false;
  let finished = false;
  let stopTimer = scheduler.after('radio connect', ATTEMPT_DEADLINE, () => cancel());

  const finish = (): void => {
    finished = true;
    stopTimer();
    peripheral.removeListener('connect', heard);
    over.resolve();
  };

  /** The link opened after it was cancelled: close it again. */
  const closeUnwanted = (): void => {
    const closed = (): void => {
      peripheral.removeListener('disconnect', closed);
      finish();
    };
    stopTimer();
    stopTimer = scheduler.after('radio close unwanted', UNWANTED_DEADLINE, closed);
    peripheral.on('disconnect', closed);
    peripheral.disconnect();
  };

  const heard = (error?: Error | null): void => {
    if (!error && cancelled) {
      closeUnwanted();
      return;
    }
    finish();
    if (error) outcome.reject(error);
    else outcome.resolve(opened());
  };

  const cancel = (): void => {
    if (cancelled || finished) return;
    cancelled = true;
    stopTimer();
    outcome.reject(new Error('the connect was given up'));
    stopTimer = scheduler.after('radio cancel', CANCEL_DEADLINE, () => {
      concludeConnect(library);
      finish();
    });
    library.cancelConnect(peripheral.id);
  };

  peripheral.on('connect', heard);
  try {
    peripheral.connect(LINK_PARAMETERS);
  } catch (error) {
    finish();
    outcome.reject(error);
  }
  return { outcome: outcome.promise, over: over.promise, cancel };
};
