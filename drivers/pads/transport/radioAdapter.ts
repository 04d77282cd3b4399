import type { RadioState } from '../../../core/bench/ports.ts';
import { fault, type Fault, type FaultCode } from '../../../core/faults.ts';
import type { Cancel, Scheduler } from '../../../core/scheduler.ts';
import { second } from '../../../core/units.ts';
import {
  bend,
  bindAdapter,
  listAdapters,
  retire,
  type CreateRadioLibrary,
  type RadioLibrary,
} from './radioLibrary.ts';

/**
 * The computer's Bluetooth adapter: absent, off, refused, unsupported or on, each with its fault,
 * and coming back by itself where it can. It knows nothing of pads or connections.
 */

/** How often an adapter that is off or absent is looked for (common practice, no source). */
const LOOK_PERIOD = second(1);
/** How long a bound adapter may take to say its state (common practice, no source). */
const ANSWER_DEADLINE = second(10);

/** errno of Linux: EPERM, EACCES. */
const NOT_PERMITTED = new Set([1, 13]);

export interface AdapterListener {
  /** The state changed; with `on` comes the library to use until the next change. */
  radio(state: RadioState, fault: Fault | null, library: RadioLibrary | null): void;
}

export interface AdapterOptions {
  readonly scheduler: Scheduler;
  /** Loads the library; called once a start. */
  readonly load: () => Promise<CreateRadioLibrary>;
}

/** Instances that are bound, one per loaded library: a second would answer the first one's links. */
const bound = new Map<CreateRadioLibrary, RadioLibrary>();

/** Gives up an instance whose adapter is off; false where the library finds its own way back. */
const giveUp = (create: CreateRadioLibrary, library: RadioLibrary): boolean => {
  if (!retire(library)) return false;
  if (bound.get(create) === library) bound.delete(create);
  return true;
};

const isRefusal = (error: unknown): boolean => {
  if (!(error instanceof Error)) return false;
  const { errno, code } = error as NodeJS.ErrnoException;
  return (
    code === 'EPERM' ||
    code === 'EACCES' ||
    (errno !== undefined && NOT_PERMITTED.has(Math.abs(errno))) ||
    /not permitted|permission denied/i.test(error.message)
  );
};

const messageOf = (error: unknown): string =>
  (error instanceof Error ? error.message : String(error)).split('\n', 1)[0] ?? '';

/** Follows the adapter until called back. Whatever goes wrong is told, nothing is thrown. */
export const followAdapter = (options: AdapterOptions, listener: AdapterListener): Cancel => {
  const { scheduler } = options;
  let stopped = false;
  let wasOn = false;
  let told: string | null = null;
  let library: RadioLibrary | null = null;
  let stopLooking: Cancel = () => undefined;
  let stopAnswerTimer: Cancel = () => undefined;

  const tell = (state: RadioState, code: FaultCode | null, detail: string | null = null): void => {
    const word = `${state}/${code}`;
    if (stopped || word === told) return;
    told = word;
    stopAnswerTimer();
    const what = code === null ? null : fault(code, scheduler.now(), { detail });
    listener.radio(state, what, state === 'on' ? library : null);
  };

  const drop = (): void => {
    library?.removeListener('stateChange', heard);
    library = null;
  };

  const socketFailed = (error: Error): void => {
    if (isRefusal(error)) tell('not permitted', 'radio-not-permitted', messageOf(error));
  };

  const looksOff = async (of: RadioLibrary): Promise<boolean> => {
    const adapters = await listAdapters(of).catch(() => null);
    if (stopped || adapters?.up) return false;
    if (adapters && !adapters.any) tell('absent', wasOn ? 'radio-reset' : 'radio-absent');
    else tell('off', 'radio-off');
    return true;
  };

  /** The library's own way back from off fails on Linux (see `retire`), so it is ours. */
  const goneOff = (create: CreateRadioLibrary, of: RadioLibrary): void => {
    stopAnswerTimer();
    if (!giveUp(create, of)) {
      tell('off', 'radio-off');
      return;
    }
    drop();
    let looking = false;
    const look = async (): Promise<void> => {
      if (looking || stopped) return;
      looking = true;
      const off = await looksOff(of);
      looking = false;
      if (off || stopped) return;
      stopLooking();
      open(create);
    };
    stopLooking();
    stopLooking = scheduler.every('radio look', LOOK_PERIOD, () => void look());
    void look();
  };

  const react = (create: CreateRadioLibrary, of: RadioLibrary, state: string): void => {
    switch (state) {
      case 'poweredOn':
        wasOn = true;
        tell('on', null);
        return;
      case 'poweredOff':
        goneOff(create, of);
        return;
      case 'resetting':
        tell('off', 'radio-reset');
        return;
      case 'unauthorized':
        tell('not permitted', 'radio-not-permitted');
        return;
      case 'unsupported':
        tell('unsupported', 'radio-unsupported');
        return;
      default:
        stopAnswerTimer();
        stopAnswerTimer = scheduler.after('radio answer', ANSWER_DEADLINE, () =>
          tell('absent', 'radio-absent', `the adapter did not answer within ${ANSWER_DEADLINE} s`),
        );
    }
  };

  let heard: (state: string) => void = () => undefined;

  const open = (create: CreateRadioLibrary): void => {
    let opening = bound.get(create);
    let state: string;
    try {
      if (opening) state = bindAdapter(opening);
      else {
        const fresh = create();
        bend(fresh, socketFailed);
        state = bindAdapter(fresh);
        bound.set(create, fresh);
        // Also while nobody follows: it must not start its socket again by itself.
        fresh.on('stateChange', (next) => {
          if (next === 'poweredOff') giveUp(create, fresh);
        });
        opening = fresh;
      }
    } catch (error) {
      refused(create, error);
      return;
    }
    const opened = opening;
    library = opened;
    heard = (next) => react(create, opened, next);
    opened.on('stateChange', heard);
    react(create, opened, state);
  };

  const refused = (create: CreateRadioLibrary, error: unknown): void => {
    const detail = messageOf(error);
    if (isRefusal(error)) tell('not permitted', 'radio-not-permitted', detail);
    else if (/unsupported platform/i.test(detail)) tell('unsupported', 'radio-unsupported', detail);
    else {
      tell('absent', wasOn ? 'radio-reset' : 'radio-absent', detail);
      stopLooking();
      stopLooking = scheduler.after('radio look', LOOK_PERIOD, () => open(create));
    }
  };

  tell('starting', null);
  options.load().then(
    (create) => {
      if (!stopped) open(create);
    },
    (error: unknown) => tell('library missing', 'radio-library-missing', messageOf(error)),
  );

  return () => {
    stopped = true;
    stopLooking();
    stopAnswerTimer();
    drop();
  };
};
