import type { Cancel, Scheduler } from '../../../core/scheduler.ts';
import { second } from '../../../core/units.ts';
import type { Connection, SoftDevice, Transport, TransportListener } from '../ports.ts';
import { openSoftConnection, type SoftConnection } from './softConnection.ts';

/**
 * A radio made in software: moves the bytes of `SoftDevice`s as Bluetooth would, in connection
 * events, one connect at a time, and gives them no meaning. Everything is by the scheduler, so the
 * same devices on a driven one do the same thing every time.
 */

/** A device is heard this often while scanning, s; 0.1 to 0.25 s is what pads advertise at. */
const ADVERTISING = second(0.2);
/** From the first advertisement heard to the open link, s; common practice, no source. */
const CONNECTING = second(0.06);
const LOOK = second(0.02);

/** Makes the transport of these devices; `Connection`s settle within a few connection intervals. */
export const createRigTransport = (
  devices: readonly SoftDevice[],
  scheduler: Scheduler,
): Transport => {
  const open = new Map<string, SoftConnection>();
  let listener: TransportListener | null = null;
  let stopScan: Cancel | null = null;
  let pending: { readonly fail: (why: Error) => void } | null = null;

  const scan = (on: boolean): void => {
    stopScan?.();
    stopScan = null;
    if (!on || !listener) return;
    stopScan = scheduler.every('rig: advertising', ADVERTISING, () => {
      for (const device of devices)
        if (device.audible() && !open.has(device.key))
          listener?.sighted({
            key: device.key,
            name: device.name,
            services: device.services,
            signal: device.signal(),
          });
    });
  };

  const connect = (key: string, lost: () => void): Promise<Connection> => {
    const device = devices.find((one) => one.key === key);
    if (!device || !listener) return Promise.reject(new Error(`no device ${key}`));
    if (pending) return Promise.reject(new Error('another connect is outstanding'));
    if (open.has(key)) return Promise.reject(new Error(`${key} is connected`));
    const { promise, resolve, reject } = Promise.withResolvers<Connection>();
    let heardFor = 0;
    // A device that cannot be heard is waited for without a limit, as radios do.
    const cancel = scheduler.every('rig: connecting', LOOK, () => {
      heardFor = device.audible() ? heardFor + LOOK : 0;
      if (heardFor < CONNECTING) return;
      cancel();
      pending = null;
      const connection = openSoftConnection(device, scheduler, () => {
        open.delete(key);
        lost();
      });
      open.set(key, connection);
      resolve(connection);
    });
    pending = {
      fail: (why) => {
        cancel();
        pending = null;
        reject(why);
      },
    };
    return promise;
  };

  const cancelConnect = (): void => pending?.fail(new Error('the connect was given up'));

  return {
    start: (to) => {
      listener = to;
      const cancel = scheduler.after('rig: radio', second(0), () => to.radio('on', null));
      return async () => {
        cancel();
        scan(false);
        listener = null;
        cancelConnect();
        for (const connection of [...open.values()]) connection.cut();
        await Promise.resolve();
      };
    },
    scan,
    connect,
    cancelConnect,
  };
};
