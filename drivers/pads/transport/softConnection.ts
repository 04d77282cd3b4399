import type { Cancel, Scheduler } from '../../../core/scheduler.ts';
import { second, type Second } from '../../../core/units.ts';
import type { Connection, SoftDevice } from '../ports.ts';

/** A link to a device made in software. */
export interface SoftConnection extends Connection {
  /** Ends it at once, as a lost link does. */
  cut(): void;
}

/** Connection interval, s: within the 7.5 ms to 4 s that Bluetooth allows, as a phone would choose. */
const INTERVAL = second(0.015);
/** Silence of the device after which the link counts as lost, s. */
const SUPERVISION = 0.5;

/**
 * Opens a link to a device: what it sends is handed on at the next connection event, in order; what
 * is asked of it is answered one event later. `lost` is called once when the link ends.
 */
export const openSoftConnection = (
  device: SoftDevice,
  scheduler: Scheduler,
  lost: () => void,
): SoftConnection => {
  let queue: (() => void)[] = [];
  let heardAt: number = scheduler.now();
  let ended = false;
  const subscriptions = new Map<string, Cancel>();
  const pending = new Set<(why: Error) => void>();

  const end = (): void => {
    if (ended) return;
    ended = true;
    stopEvents();
    for (const unsubscribe of subscriptions.values()) unsubscribe();
    subscriptions.clear();
    queue = [];
    for (const fail of [...pending]) fail(new Error('the link ended'));
    lost();
  };

  const stopEvents = scheduler.every(`soft link ${device.key}`, INTERVAL, () => {
    if (device.audible()) heardAt = scheduler.now();
    else {
      // Out of reach: what waits to be sent waits on, until the link is given up.
      if (scheduler.now() - heardAt >= SUPERVISION) end();
      return;
    }
    const due = queue;
    queue = [];
    for (const deliver of due) if (!ended) deliver();
  });

  /** Runs `act` at the next connection event and settles with it, or with the end of the link. */
  const atNextEvent = <T>(act: () => T): Promise<T> => {
    if (ended) return Promise.reject(new Error('the link ended'));
    const { promise, resolve, reject } = Promise.withResolvers<T>();
    pending.add(reject);
    queue.push(() => {
      pending.delete(reject);
      try {
        resolve(act());
      } catch (error) {
        reject(error instanceof Error ? error : new Error(String(error)));
      }
    });
    return promise;
  };

  const has = (service: string, uuid: string): boolean =>
    device.characteristics.some((one) => one.service === service && one.uuid === uuid);

  return {
    discover: () => atNextEvent(() => device.characteristics),
    read: (service, uuid) =>
      atNextEvent(() => {
        const value = device.read(service, uuid);
        if (!value) throw new Error(`${uuid} cannot be read`);
        return value;
      }),
    write: (service, uuid, bytes) =>
      atNextEvent(() => {
        if (!device.write(service, uuid, bytes)) throw new Error(`${uuid} refused the value`);
      }),
    subscribe: (service, uuid, received: (bytes: Uint8Array, at: Second) => void) =>
      atNextEvent(() => {
        if (!has(service, uuid)) throw new Error(`${uuid} is not there`);
        const name = `${service} ${uuid}`;
        subscriptions.get(name)?.();
        const unsubscribe = device.subscribe(service, uuid, (bytes) => {
          if (!ended) queue.push(() => received(bytes, scheduler.now()));
        });
        subscriptions.set(name, unsubscribe);
      }),
    signal: () => atNextEvent(() => device.signal()),
    close: () => {
      end();
      return Promise.resolve();
    },
    cut: end,
  };
};
