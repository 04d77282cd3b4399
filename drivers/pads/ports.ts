import type { RadioState } from '../../core/bench/ports.ts';
import type { Fault } from '../../core/faults.ts';
import type { Cancel } from '../../core/scheduler.ts';
import type { Second } from '../../core/units.ts';

/**
 * The transport port: it moves bytes to and from devices that have services and characteristics,
 * and gives them no meaning. The Bluetooth library, the practice rig and a recording all stand
 * behind it, and nothing on this side can tell which.
 *
 * UUIDs are lower case without dashes: four digits for the adopted ones, else thirty-two.
 */

/** A device that was heard. Heard again, it is reported again. */
export interface Sighting {
  /** Names the device within this transport; not an identity. */
  readonly key: string;
  readonly name: string;
  readonly services: readonly string[];
  /** dBm; null where unknown. */
  readonly signal: number | null;
}

export interface TransportListener {
  radio(state: RadioState, fault: Fault | null): void;
  sighted(sighting: Sighting): void;
}

/** A characteristic that was found on a connected device. */
export interface CharacteristicFound {
  readonly service: string;
  readonly uuid: string;
  readonly canRead: boolean;
  readonly canWrite: boolean;
  readonly canNotify: boolean;
}

/** An open connection. After `lost` was called nothing more comes, and every promise has settled. */
export interface Connection {
  /** Services and characteristics, found anew on this connection. */
  discover(): Promise<readonly CharacteristicFound[]>;
  read(service: string, uuid: string): Promise<Uint8Array>;
  /** With response. */
  write(service: string, uuid: string, bytes: Uint8Array): Promise<void>;
  /**
   * Notifications or indications, once for each that is sent. `at` is the arrival on the host's
   * monotonic clock.
   */
  subscribe(
    service: string,
    uuid: string,
    received: (bytes: Uint8Array, at: Second) => void,
  ): Promise<void>;
  /** Received signal strength, dBm; null where unknown. */
  signal(): Promise<number | null>;
  close(): Promise<void>;
}

/**
 * Radio, rig or recording. Only one `connect` is outstanding at a time (the caller queues), and a
 * pending one is given up with `cancelConnect`. Promises may reject; they settle within the
 * deadlines that the transport states or when the connection is lost.
 */
export interface Transport {
  /** Begins; the returned function stops everything and settles when it is shut. */
  start(listener: TransportListener): () => Promise<void>;
  /** Keeps listening for devices until called back; sightings go to the listener. */
  scan(on: boolean): void;
  /** Opens a connection to a sighted device; `lost` is called once when it ends, however it ends. */
  connect(key: string, lost: () => void): Promise<Connection>;
  cancelConnect: Cancel;
}

/**
 * A device made in software: what the practice rig hands to its transport, and what a test hands to
 * a virtual radio. It speaks the same bytes as hardware.
 */
export interface SoftDevice {
  readonly key: string;
  readonly name: string;
  /** Services it advertises. */
  readonly services: readonly string[];
  readonly characteristics: readonly CharacteristicFound[];
  /** Whether it can be heard now (switched on, battery not empty). */
  audible(): boolean;
  /** The value of a readable characteristic; null where there is none. */
  read(service: string, uuid: string): Uint8Array | null;
  /** Takes a written value; false where it is refused. */
  write(service: string, uuid: string, bytes: Uint8Array): boolean;
  /** Sends each new value of a characteristic until called back. */
  subscribe(service: string, uuid: string, send: (bytes: Uint8Array) => void): Cancel;
  /** Received signal strength, dBm. */
  signal(): number;
}
