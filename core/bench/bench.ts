import type { OpenPads, PadSource } from './ports.ts';
import type { StorePort } from './storePort.ts';
import type { Scheduler } from '../scheduler.ts';

/** What the bench is handed: it opens nothing, reads no clock and makes no ids by itself. */
export interface BenchPorts {
  readonly openPads: OpenPads;
  readonly store: StorePort;
  readonly scheduler: Scheduler;
  /** Wall-clock label, milliseconds since 1970 UTC. */
  readonly wallClock: () => number;
  /** A new UUIDv7. */
  readonly newId: () => string;
  /** Source of pads to open at once, instead of the one used last; null leaves that one. */
  readonly source: PadSource | null;
  /** True when this process replaces one that stopped: said as a fault, once. */
  readonly restarted: boolean;
}

/** One screen that is joined to the bench. */
export interface Joined {
  /** Takes one request as JSON text; what does not parse is refused and reported to `refused`. */
  receive(text: string): void;
  leave(): void;
}

export interface Bench {
  /** Joins a screen: `send` is given pushes as JSON text. */
  join(send: (text: string) => void, refused?: (why: string) => void): Joined;
  /** Stops the pads and every timer; settles when all is shut. */
  stop(): Promise<void>;
}
