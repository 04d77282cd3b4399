import type { StorePort } from '../core/bench/storePort.ts';
import type { Scheduler } from '../core/scheduler.ts';
import { second } from '../core/units.ts';
import { openStore } from '../drivers/store/open.ts';
import type { RecordsInPlace } from '../drivers/store/store.ts';
import { createUnavailableStore } from './unavailableStore.ts';

export type OpenStore = StorePort & {
  /** Null where it could not be opened. */
  readonly inPlace: RecordsInPlace | null;
  readonly close: () => void;
};

/** A Millpond that is just ending lets go of the folder within this; common practice, no source. */
const BUSY_PATIENCE = second(3);
const BUSY_PAUSE = second(0.25);

/**
 * Opens the store, waiting a little for another process to let go of it. Where it cannot be opened
 * the bench still runs, on a store that refuses every write with the reason.
 */
export const waitForStore = async (options: {
  readonly dir: string;
  readonly wallClock: () => number;
  readonly newId: () => string;
  readonly scheduler: Scheduler;
  readonly log: (line: string) => void;
  readonly open?: typeof openStore;
}): Promise<OpenStore> => {
  const { dir, wallClock, newId, scheduler, log, open = openStore } = options;
  const begun = scheduler.now();
  for (;;) {
    const opened = open({ dir, wallClock, newId, now: scheduler.now });
    if (opened.ok) return opened.store;
    const { fault } = opened;
    if (fault.code !== 'store-busy' || scheduler.now() - begun >= BUSY_PATIENCE) {
      log(`the store is not available: ${fault.code}${fault.detail ? ` (${fault.detail})` : ''}`);
      return createUnavailableStore(fault);
    }
    await new Promise<void>((resolve) => {
      scheduler.after('store busy', BUSY_PAUSE, resolve);
    });
  }
};
