import type { Cancel } from '../../../core/scheduler.ts';

/**
 * What Millpond uses of the Bluetooth library (@abandonware/noble 1.9.2-26), as a shape of its own,
 * and the few places where the library has to be bent. It knows the library's insides and nothing
 * of pads; only `noble.ts` imports the library itself.
 */

/** Link parameters in the units of HCI (Core specification, Vol 4 Part E 7.8.12). */
export interface LinkParameters {
  /** Multiples of 1.25 ms. */
  readonly minInterval: number;
  readonly maxInterval: number;
  /** Connection events the pad may skip. */
  readonly latency: number;
  /** Supervision timeout, multiples of 10 ms. */
  readonly timeout: number;
}

/**
 * Ours, on purpose. The library's own supervision timeout is 420 ms: somebody walking between pad
 * and computer ends the link. With 2 s a short fade only delays samples, and a fade that matters is
 * seen anyway, because a capture refuses a hole over 0.2 s. 15–30 ms suits four pads on one radio
 * (common practice, no source); the timeout must exceed (1 + latency) · 2 · longest interval.
 */
export const LINK_PARAMETERS: LinkParameters = {
  minInterval: 12,
  maxInterval: 24,
  latency: 0,
  timeout: 200,
};

declare const events: unique symbol;

/** An emitter by the events it has: the arguments of each. */
export interface Emitter<Events> {
  /** Never there: it only lets the compiler see the events. */
  readonly [events]?: Events;
  on<K extends keyof Events>(event: K, listener: (...heard: Args<Events[K]>) => void): unknown;
  removeListener<K extends keyof Events>(
    event: K,
    listener: (...heard: Args<Events[K]>) => void,
  ): unknown;
}
type Args<T> = T extends readonly unknown[] ? T : never;

/** Listens until called back. */
export const listenTo = <Events, K extends keyof Events>(
  to: Emitter<Events>,
  event: K,
  listener: (...heard: Args<Events[K]>) => void,
): Cancel => {
  to.on(event, listener);
  return () => {
    to.removeListener(event, listener);
  };
};

interface CharacteristicEvents {
  data: readonly [data: Uint8Array, isNotification: boolean];
  read: readonly [data: Uint8Array, isNotification: boolean];
  write: readonly [];
  notify: readonly [on: boolean];
}

export interface RadioCharacteristic extends Emitter<CharacteristicEvents> {
  readonly uuid: string;
  readonly properties: readonly string[];
  read(): void;
  write(data: Uint8Array, withoutResponse: boolean): void;
  notify(on: boolean): void;
}

interface ServiceEvents {
  characteristicsDiscover: readonly [found: readonly RadioCharacteristic[]];
}

export interface RadioService extends Emitter<ServiceEvents> {
  readonly uuid: string;
  discoverCharacteristics(uuids: readonly string[]): void;
}

interface PeripheralEvents {
  connect: readonly [error?: Error | null];
  disconnect: readonly [reason?: unknown];
  rssiUpdate: readonly [rssi: number];
  servicesDiscover: readonly [services: readonly RadioService[]];
}

export interface RadioPeripheral extends Emitter<PeripheralEvents> {
  readonly id: string;
  readonly rssi: number;
  readonly state: 'error' | 'connecting' | 'connected' | 'disconnecting' | 'disconnected';
  readonly advertisement: {
    readonly localName?: string | undefined;
    readonly serviceUuids?: readonly string[] | undefined;
  };
  connect(parameters: LinkParameters): void;
  disconnect(): void;
  updateRssi(): void;
  discoverServices(uuids: readonly string[]): void;
}

export interface RadioAdapterInfo {
  readonly devId: number | null;
  readonly devUp: boolean | null;
}

interface HciEvents {
  aclDataPkt: readonly [handle: number, channel: number, data: Uint8Array];
}

/** The HCI layer inside the library; absent with the macOS and Windows bindings. */
interface HciInside extends Emitter<HciEvents> {
  _deviceId: number | undefined;
  _socket: { getDeviceList(): readonly RadioAdapterInfo[] | Promise<readonly RadioAdapterInfo[]> };
  onSocketError(error: Error): void;
  onSocketData(packet: Uint8Array): void;
  flushAcl(): Promise<void>;
  pollIsDevUp(): void;
}

interface LibraryEvents {
  stateChange: readonly [state: string];
  discover: readonly [peripheral: RadioPeripheral];
  scanStop: readonly [];
}

export interface RadioLibrary extends Emitter<LibraryEvents> {
  /** Reading it binds the adapter the first time, and throws where that fails. */
  readonly state: string;
  startScanning(services: readonly string[], allowDuplicates: boolean): void;
  stopScanning(): void;
  cancelConnect(peripheral: string): void;
  readonly _bindings: {
    readonly _hci?: HciInside;
    /** Connection handles by peripheral. */
    readonly _handles?: Readonly<Record<string, number | undefined>>;
  };
}

export type CreateRadioLibrary = () => RadioLibrary;

/** Sockets of instances that were given up: see `retire`. */
const retired = new Set<unknown>();

/**
 * Bends a new instance before it binds.
 * - The native socket's errors carry `errno` and no `code`, so the library never sees EPERM: they
 *   are handed to us instead.
 * - A packet queued in the same turn in which its link ends makes the library's flush reject, with
 *   nobody to catch it, which would end the process: the packet is dropped and the rest goes on.
 */
export const bend = (library: RadioLibrary, socketFailed: (error: Error) => void): void => {
  const hci = library._bindings._hci;
  if (!hci) return;
  hci.onSocketError = socketFailed;
  const flush = hci.flushAcl.bind(hci);
  hci.flushAcl = () => flush().catch(() => hci.flushAcl());
};

/**
 * Binds the adapter and returns the library's first state; throws what the binding throws. The
 * library's SIGINT handler is taken away: it ends the process when it is the last one, and ending
 * is not for a library to decide.
 */
export const bindAdapter = (library: RadioLibrary): string => {
  const before = new Set(process.listeners('SIGINT'));
  const state = library.state;
  for (const handler of process.listeners('SIGINT'))
    if (!before.has(handler)) process.removeListener('SIGINT', handler);
  return state;
};

/**
 * Adapters the system has; null where this binding cannot say. `chosen` is the one that the user
 * asked for with NOBLE_HCI_DEVICE_ID.
 */
export const listAdapters = async (
  library: RadioLibrary,
): Promise<{ readonly any: boolean; readonly up: boolean } | null> => {
  const hci = library._bindings._hci;
  if (!hci || process.platform !== 'linux') return null;
  const chosen = hci._deviceId;
  const all = await hci._socket.getDeviceList();
  const ours = all.filter((adapter) => chosen === undefined || adapter.devId === chosen);
  return { any: ours.length > 0, up: ours.some((adapter) => adapter.devUp === true) };
};

/**
 * Gives up an instance whose adapter went away. On Linux the library would start its socket again,
 * which closes the descriptor and then reads from the closed number, and a socket whose adapter was
 * pulled out stays dead; so a fresh instance is made instead. The old socket is kept, open and
 * unused: stopping or collecting it would close a number that may by then belong to a file. False
 * where the binding is another and finds its own way back.
 */
export const retire = (library: RadioLibrary): boolean => {
  const hci = library._bindings._hci;
  if (!hci || process.platform !== 'linux') return false;
  hci.pollIsDevUp = () => undefined;
  retired.add(hci._socket);
  return true;
};

/**
 * Tells the library that its outstanding connect failed, when the controller never said so: else
 * every later connect would wait behind it for ever. HCI LE Connection Complete with status 0x02,
 * unknown connection identifier, which is what a cancelled connect is answered with.
 */
export const concludeConnect = (library: RadioLibrary): void => {
  const packet = Buffer.alloc(22);
  packet.set([0x04, 0x3e, 0x13, 0x01, 0x02]);
  library._bindings._hci?.onSocketData(packet);
};

/** Requests of the attribute protocol: Core specification, Vol 3 Part F 3.4.8. */
export const ATT = { error: 0x01, readByType: 0x08, write: 0x12 } as const;
const ATT_CHANNEL = 0x0004;

/**
 * Calls back when the pad answers one of these requests with an error. The library hears that and
 * keeps it to itself, so that without this a refused write would look like a dead link. Where the
 * binding has no HCI layer nothing is heard and the deadline decides.
 */
export const listenForRefusal = (
  library: RadioLibrary,
  peripheral: RadioPeripheral,
  requests: readonly number[],
  refused: (code: number) => void,
): Cancel => {
  const hci = library._bindings._hci;
  const ours = library._bindings._handles?.[peripheral.id];
  if (!hci || ours === undefined) return () => undefined;
  return listenTo(hci, 'aclDataPkt', (handle, channel, data) => {
    if (handle !== ours || channel !== ATT_CHANNEL || data[0] !== ATT.error) return;
    if (requests.includes(data[1] ?? -1)) refused(data[4] ?? 0);
  });
};

/** HCI status at the end of the library's connect errors, such as "Command Disallowed (0xc)". */
export const hciStatus = (error: Error): number | null => {
  const match = /\(0x([0-9a-f]+)\)$/.exec(error.message);
  return match?.[1] ? Number.parseInt(match[1], 16) : null;
};

const BLUETOOTH_BASE = /^0000([0-9a-f]{4})00001000800000805f9b34fb$/;

/** A UUID as the port has it. The library drops leading zeros of the short ones. */
export const portUuid = (uuid: string): string => {
  const bare = uuid.toLowerCase().replaceAll('-', '');
  return BLUETOOTH_BASE.exec(bare)?.[1] ?? (bare.length < 4 ? bare.padStart(4, '0') : bare);
};
