import path from 'node:path';
import type { GuestPort } from '../../core/bench/ports.ts';
import type { Scheduler } from '../../core/scheduler.ts';
import { createGuestPort } from '../../electron/guestPort.ts';
import type { OwnNetwork } from '../../electron/ownNetworks.ts';

/** A computer that is in no network but its own. */
export const LOOPBACK_ONLY: readonly OwnNetwork[] = [
  { name: 'lo', address: '127.0.0.1', prefix: 8, isInternal: true },
];

/** The real port for guests, on loopback and any free port; shut until somebody opens it. */
export const testGuests = (ports: {
  readonly scheduler: Scheduler;
  readonly newId: () => string;
  readonly wallClock: () => number;
  /** The built page; the product's own unless said. */
  readonly folder?: string | undefined;
  readonly log?: (line: string) => void;
  readonly networks?: () => readonly OwnNetwork[];
}): GuestPort =>
  createGuestPort({
    ...ports,
    folder: ports.folder ?? path.resolve(import.meta.dirname, '../../dist/guest'),
    networks: ports.networks ?? (() => LOOPBACK_ONLY),
    log: ports.log ?? (() => {}),
    port: 0,
  });
