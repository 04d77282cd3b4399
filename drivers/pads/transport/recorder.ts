import type { Scheduler } from '../../../core/scheduler.ts';
import type { CharacteristicFound, Connection, Sighting, Transport } from '../ports.ts';
import { deviceLine, headerLine, notificationLine } from './recording.ts';

/**
 * Records what goes through a transport, in the recording format, line by line as it happens; the
 * transport itself is used as if this were not there. Only one `write` per line, no line end in it.
 * What a device answers to reads before its first notification is kept with it.
 */
export const recordTransport = (
  transport: Transport,
  options: { readonly scheduler: Scheduler; readonly write: (line: string) => void },
): Transport => {
  const { scheduler, write } = options;
  const began = scheduler.now();
  const sightings = new Map<string, Sighting>();
  const numbers = new Map<string, number>();
  let last = 0;
  write(headerLine());

  const record = (
    key: string,
    found: readonly CharacteristicFound[],
    values: ReadonlyMap<string, Uint8Array>,
    heard: { readonly service: string; readonly uuid: string },
    bytes: Uint8Array,
    at: number,
  ): void => {
    let number = numbers.get(key);
    if (number === undefined) {
      number = numbers.size;
      numbers.set(key, number);
      const { name = '', services = [], signal = null } = sightings.get(key) ?? {};
      const characteristics = found.map((one) => ({
        ...one,
        value: values.get(`${one.service} ${one.uuid}`) ?? null,
      }));
      write(deviceLine(number, { key, name, services, signal, characteristics }));
    }
    // Arrivals of two pads may be stamped out of order by microseconds; the format rises.
    last = Math.max(last, (at - began) * 1000);
    write(notificationLine({ ms: last, device: number, ...heard, bytes }));
  };

  const tap = (key: string, connection: Connection): Connection => {
    let found: readonly CharacteristicFound[] = [];
    const values = new Map<string, Uint8Array>();
    return {
      write: (service, uuid, bytes) => connection.write(service, uuid, bytes),
      signal: () => connection.signal(),
      close: () => connection.close(),
      discover: async () => {
        found = await connection.discover();
        return found;
      },
      read: async (service, uuid) => {
        const value = await connection.read(service, uuid);
        values.set(`${service} ${uuid}`, value);
        return value;
      },
      subscribe: (service, uuid, received) =>
        connection.subscribe(service, uuid, (bytes, at) => {
          record(key, found, values, { service, uuid }, bytes, at);
          received(bytes, at);
        }),
    };
  };

  return {
    scan: (on) => transport.scan(on),
    cancelConnect: () => transport.cancelConnect(),
    start: (listener) =>
      transport.start({
        radio: (state, because) => listener.radio(state, because),
        sighted: (sighting) => {
          sightings.set(sighting.key, sighting);
          listener.sighted(sighting);
        },
      }),
    connect: async (key, lost) => tap(key, await transport.connect(key, lost)),
  };
};
