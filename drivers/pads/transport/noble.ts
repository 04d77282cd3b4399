import type { Fault } from '../../../core/faults.ts';
import type { RadioState } from '../../../core/bench/ports.ts';
import type { Cancel, Scheduler } from '../../../core/scheduler.ts';
import { second } from '../../../core/units.ts';
import type { Connection, Transport, TransportListener } from '../ports.ts';
import { followAdapter } from './radioAdapter.ts';
import { attemptConnect, isDisallowed, type Attempt } from './radioConnect.ts';
import { openRadioConnection, portSignal, type OpenLink } from './radioConnection.ts';
import {
  portUuid,
  type CreateRadioLibrary,
  type RadioLibrary,
  type RadioPeripheral,
} from './radioLibrary.ts';

/**
 * The Bluetooth transport: the one home of @abandonware/noble, loaded only when it is started,
 * because requiring it resolves a native binding at once. It moves bytes and knows no pad.
 */

/** A scan from which nothing was heard for so long is begun anew (common practice, no source). */
const SCAN_SILENCE = second(10);
const SCAN_LOOK_PERIOD = second(2);
/**
 * The Linux socket waits in the event loop for the kernel to connect, 2 s unless told otherwise, in
 * which no sample of another pad is stamped. After this long it goes on without waiting.
 */
const KERNEL_CONNECT_MS = '300';

let created: CreateRadioLibrary | null = null;

/** Loads the library; the same factory each time, so that one adapter has one instance. */
const loadNoble = async (): Promise<CreateRadioLibrary> => {
  if (created) return created;
  process.env['BLUETOOTH_HCI_L2CAP_CONNECT_TIMEOUT_MS'] ??= KERNEL_CONNECT_MS;
  const { default: create } = await import('@abandonware/noble/with-custom-binding.js');
  const factory: CreateRadioLibrary = () => create({ extended: false }) as RadioLibrary;
  // Made once here, so that a binding that does not load is told apart from a missing adapter.
  const first = factory();
  let spare: RadioLibrary | null = first;
  created = () => {
    const next = spare ?? factory();
    spare = null;
    return next;
  };
  return created;
};

export interface NobleOptions {
  readonly scheduler: Scheduler;
  /** How the library is loaded; only tests of its absence hand in another. */
  readonly load?: () => Promise<CreateRadioLibrary>;
}

/**
 * Makes the Bluetooth transport. Promises reject when the link ends, when the pad takes longer than
 * discovery 5 s, read, write or subscription 3 s, closing 2 s, or when a connect is given up, at
 * the latest by itself after 20 s. Only one connect is outstanding at a time.
 */
export const createNobleTransport = ({ scheduler, load = loadNoble }: NobleOptions): Transport => {
  let library: RadioLibrary | null = null;
  let listener: TransportListener | null = null;
  let wanted = false;
  let scanning = false;
  let lastHeard: number = scheduler.now();
  /** Learnt from the controller: some cannot scan while they connect. */
  let pauseScanToConnect = false;
  let isConnecting = false;
  let attempt: Attempt<OpenLink> | null = null;
  let attemptOver: Promise<void> = Promise.resolve();
  let begun = 0;
  let cancelledUpTo = 0;
  const heardOf = new Map<string, RadioPeripheral>();
  const links = new Set<OpenLink>();

  const applyScan = (): void => {
    if (!library || library.state !== 'poweredOn') return;
    const should = wanted && !(pauseScanToConnect && isConnecting);
    if (should === scanning) return;
    scanning = should;
    lastHeard = scheduler.now();
    // With duplicates, so that a pad which comes back is reported again.
    if (should) library.startScanning([], true);
    else library.stopScanning();
  };

  /** Other programs stop scans, and the library's own events can be missing or unrequested. */
  const lookAtScan = (): void => {
    if (scanning && scheduler.now() - lastHeard > SCAN_SILENCE) scanning = false;
    applyScan();
  };

  const scanStopped = (): void => {
    // Acted on at the next look and not at once: the library says it of its own restarts too.
    if (scanning && wanted) lastHeard = Math.min(lastHeard, scheduler.now() - SCAN_SILENCE);
  };

  const discovered = (peripheral: RadioPeripheral): void => {
    lastHeard = scheduler.now();
    heardOf.set(peripheral.id, peripheral);
    listener?.sighted({
      key: peripheral.id,
      name: peripheral.advertisement.localName ?? '',
      services: (peripheral.advertisement.serviceUuids ?? []).map(portUuid),
      signal: portSignal(peripheral.rssi),
    });
  };

  const leave = (): void => {
    library?.removeListener('discover', discovered);
    library?.removeListener('scanStop', scanStopped);
    library = null;
    scanning = false;
  };

  const radio = (state: RadioState, fault: Fault | null, next: RadioLibrary | null): void => {
    if (library !== next) {
      leave();
      heardOf.clear();
      for (const link of [...links]) link.end();
      attempt?.cancel();
      library = next;
      next?.on('discover', discovered);
      next?.on('scanStop', scanStopped);
    }
    listener?.radio(state, fault);
    applyScan();
  };

  const tryOnce = async (key: string, mine: number, lost: () => void): Promise<Connection> => {
    await attemptOver;
    const peripheral = heardOf.get(key);
    if (mine <= cancelledUpTo) throw new Error('the connect was given up');
    const from = library;
    if (!from || !peripheral) throw new Error(`${key} was not heard of, or the radio is off`);
    const opened = (): OpenLink => {
      const link = openRadioConnection(from, peripheral, scheduler, () => {
        links.delete(link);
        lost();
      });
      links.add(link);
      return link;
    };
    // The scan stops before the connect is asked for, where it has to.
    isConnecting = true;
    applyScan();
    const own = attemptConnect(from, peripheral, scheduler, opened);
    attempt = own;
    attemptOver = own.over.then(() => {
      if (attempt !== own) return;
      attempt = null;
      isConnecting = false;
      applyScan();
    });
    return (await own.outcome).connection;
  };

  const connect = async (key: string, lost: () => void): Promise<Connection> => {
    begun += 1;
    const mine = begun;
    try {
      return await tryOnce(key, mine, lost);
    } catch (error) {
      if (pauseScanToConnect || !isDisallowed(error)) throw error;
      pauseScanToConnect = true;
      return tryOnce(key, mine, lost);
    }
  };

  const cancelConnect: Cancel = () => {
    cancelledUpTo = begun;
    attempt?.cancel();
  };

  const start = (to: TransportListener): (() => Promise<void>) => {
    listener = to;
    const stopAdapter = followAdapter({ scheduler, load }, { radio });
    const stopLooking = scheduler.every('radio scan look', SCAN_LOOK_PERIOD, lookAtScan);
    return async () => {
      listener = null;
      wanted = false;
      applyScan();
      stopLooking();
      cancelConnect();
      await Promise.all([attemptOver, ...[...links].map((link) => link.connection.close())]);
      leave();
      stopAdapter();
    };
  };

  return {
    start,
    scan: (on) => {
      wanted = on;
      applyScan();
    },
    connect,
    cancelConnect,
  };
};
