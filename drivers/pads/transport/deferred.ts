import type { RadioState } from '../../../core/bench/ports.ts';
import type { Fault } from '../../../core/faults.ts';
import type { Transport } from '../ports.ts';

/**
 * A transport that is loaded when it is started: a radio library is not even looked for before
 * somebody wants it. Where loading fails, the radio says what `failed` makes of the error, and
 * nothing crashes.
 */
export const deferTransport = (
  load: () => Promise<Transport>,
  failed: (error: unknown) => { readonly state: RadioState; readonly fault: Fault },
): Transport => {
  let loaded: Transport | null = null;
  let isScanWanted = false;
  return {
    start: (listener) => {
      let isStopped = false;
      const starting = load().then(
        (transport) => {
          if (isStopped) return null;
          loaded = transport;
          const stop = transport.start(listener);
          if (isScanWanted) transport.scan(true);
          return stop;
        },
        (error: unknown) => {
          const { state, fault } = failed(error);
          if (!isStopped) listener.radio(state, fault);
          return null;
        },
      );
      return async () => {
        isStopped = true;
        const stop = await starting;
        loaded = null;
        await stop?.();
      };
    },
    scan: (on) => {
      isScanWanted = on;
      loaded?.scan(on);
    },
    connect: (key, lost) =>
      loaded ? loaded.connect(key, lost) : Promise.reject(new Error('the radio is not loaded')),
    cancelConnect: () => loaded?.cancelConnect(),
  };
};
