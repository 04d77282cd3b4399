import type { Cancel, Scheduler } from '../../../core/scheduler.ts';
import { second, type Second } from '../../../core/units.ts';
import type { CharacteristicFound, Connection } from '../ports.ts';
import {
  ATT,
  listenForRefusal,
  listenTo,
  portUuid,
  type RadioCharacteristic,
  type RadioLibrary,
  type RadioPeripheral,
  type RadioService,
} from './radioLibrary.ts';

/**
 * One open link over the Bluetooth library. The library never settles what was asked once the link
 * is gone, and never says that a write or a subscription was refused; so every wait here ends with
 * its answer, its refusal, the link, or its deadline. It knows nothing of what the bytes mean.
 */

/** Deadlines, chosen well above what a healthy link needs (common practice, no source). */
const DISCOVER_DEADLINE = second(5);
const OPERATION_DEADLINE = second(3);
const SIGNAL_DEADLINE = second(1);
const CLOSE_DEADLINE = second(2);
/** "Not available", Core specification Vol 4 Part E 7.5.4. */
const RSSI_UNKNOWN = 127;

/** Signal strength as the port has it: dBm, null where unknown. */
export const portSignal = (rssi: number): number | null =>
  Number.isFinite(rssi) && rssi !== RSSI_UNKNOWN ? rssi : null;

export interface OpenLink {
  readonly connection: Connection;
  /** Ends it here without asking the pad: the radio itself has gone. */
  end(): void;
}

/** Wraps a peripheral that has just connected; call it in the same turn as its `connect` event. */
export const openRadioConnection = (
  library: RadioLibrary,
  peripheral: RadioPeripheral,
  scheduler: Scheduler,
  lost: () => void,
): OpenLink => {
  let ended = false;
  let closing: Promise<void> | null = null;
  const pending = new Set<(why: Error) => void>();
  const whenEnded: (() => void)[] = [];
  const found = new Map<string, RadioCharacteristic>();
  const subscriptions = new Map<string, Cancel>();

  const end = (): void => {
    if (ended) return;
    ended = true;
    peripheral.removeListener('disconnect', end);
    for (const unsubscribe of subscriptions.values()) unsubscribe();
    subscriptions.clear();
    found.clear();
    for (const fail of [...pending]) fail(new Error('the link ended'));
    for (const tell of whenEnded) tell();
    lost();
  };
  peripheral.on('disconnect', end);

  /** Asks, and waits for the answer that `listen` reports, for the end of the link, or too long. */
  const ask = <T>(
    what: string,
    deadline: Second,
    run: () => void,
    listen: (answer: (value: T) => void) => Cancel,
    refusable: readonly number[] = [],
  ): Promise<T> =>
    new Promise((resolve, reject) => {
      if (ended) {
        reject(new Error('the link ended'));
        return;
      }
      const finish = (): void => {
        stopTimer();
        stopListening();
        stopRefusal();
        pending.delete(fail);
      };
      const fail = (why: Error): void => {
        finish();
        reject(why);
      };
      const stopListening = listen((value) => {
        finish();
        resolve(value);
      });
      const stopRefusal = listenForRefusal(library, peripheral, refusable, (code) =>
        fail(new Error(`${what}: refused with 0x${code.toString(16)}`)),
      );
      const stopTimer = scheduler.after(`radio ${what}`, deadline, () =>
        fail(new Error(`${what}: no answer within ${deadline} s`)),
      );
      pending.add(fail);
      try {
        run();
      } catch (error) {
        fail(error instanceof Error ? error : new Error(String(error)));
      }
    });

  const nameOf = (service: string, uuid: string): string => `${service}/${uuid}`;

  const characteristic = (service: string, uuid: string): RadioCharacteristic => {
    const it = found.get(nameOf(service, uuid));
    if (ended) throw new Error('the link ended');
    if (!it) throw new Error(`no characteristic ${uuid} in service ${service}`);
    return it;
  };

  const discover = async (): Promise<readonly CharacteristicFound[]> => {
    const services = await ask<readonly RadioService[]>(
      'discovery of services',
      DISCOVER_DEADLINE,
      () => peripheral.discoverServices([]),
      (answer) => listenTo(peripheral, 'servicesDiscover', answer),
    );
    const list: CharacteristicFound[] = [];
    for (const service of services) {
      const characteristics = await ask<readonly RadioCharacteristic[]>(
        'discovery of characteristics',
        DISCOVER_DEADLINE,
        () => service.discoverCharacteristics([]),
        (answer) => listenTo(service, 'characteristicsDiscover', answer),
      );
      for (const it of characteristics) {
        const one: CharacteristicFound = {
          service: portUuid(service.uuid),
          uuid: portUuid(it.uuid),
          canRead: it.properties.includes('read'),
          canWrite: it.properties.includes('write'),
          canNotify: it.properties.includes('notify') || it.properties.includes('indicate'),
        };
        found.set(nameOf(one.service, one.uuid), it);
        list.push(one);
      }
    }
    return list;
  };

  const read = async (service: string, uuid: string): Promise<Uint8Array> => {
    const it = characteristic(service, uuid);
    const bytes = await ask<Uint8Array>(
      `read of ${uuid}`,
      OPERATION_DEADLINE,
      () => it.read(),
      (answer) =>
        listenTo(it, 'read', (data, isNotification) => {
          if (!isNotification) answer(Uint8Array.from(data));
        }),
    );
    // The library answers a refusal with no bytes, so no bytes cannot be told from a refusal.
    if (bytes.length === 0) throw new Error(`read of ${uuid}: refused, or an empty value`);
    return bytes;
  };

  const write = async (service: string, uuid: string, bytes: Uint8Array): Promise<void> => {
    const it = characteristic(service, uuid);
    await ask<void>(
      `write of ${uuid}`,
      OPERATION_DEADLINE,
      () => it.write(Buffer.from(bytes), false),
      (answer) => listenTo(it, 'write', answer),
      [ATT.write],
    );
  };

  const subscribe = async (
    service: string,
    uuid: string,
    received: (bytes: Uint8Array, at: Second) => void,
  ): Promise<void> => {
    const it = characteristic(service, uuid);
    const name = nameOf(service, uuid);
    if (subscriptions.has(name)) throw new Error(`${uuid} is already subscribed to`);
    // Before the pad is asked: its first notification may come together with its answer.
    const stopListening = listenTo(it, 'data', (data, isNotification) => {
      if (isNotification) received(Uint8Array.from(data), scheduler.now());
    });
    subscriptions.set(name, stopListening);
    try {
      await ask<void>(
        `subscription to ${uuid}`,
        OPERATION_DEADLINE,
        () => it.notify(true),
        (answer) => listenTo(it, 'notify', () => answer()),
        [ATT.readByType, ATT.write],
      );
    } catch (error) {
      stopListening();
      subscriptions.delete(name);
      throw error;
    }
  };

  const signal = async (): Promise<number | null> => {
    const asked = ask<number | null>(
      'signal',
      SIGNAL_DEADLINE,
      () => peripheral.updateRssi(),
      (answer) => listenTo(peripheral, 'rssiUpdate', (rssi) => answer(portSignal(rssi))),
    );
    return asked.catch((error: unknown) => {
      if (ended) throw error;
      return null;
    });
  };

  const close = (): Promise<void> => {
    if (ended) return Promise.resolve();
    closing ??= new Promise((resolve) => {
      const stopTimer = scheduler.after('radio close', CLOSE_DEADLINE, end);
      whenEnded.push(() => {
        stopTimer();
        resolve();
      });
      peripheral.disconnect();
    });
    return closing;
  };

  return { connection: { discover, read, write, subscribe, signal, close }, end };
};
