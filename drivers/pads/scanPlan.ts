import type { Scheduler } from '../../core/scheduler.ts';
import { WAITS } from './deadlines.ts';

/**
 * When to listen for pads: always while one that is known is not live or there is none, else a
 * fifth of the time, so that a spare that is switched on is still found and live pads keep the radio.
 */
export interface ScanPlan {
  radio(isOn: boolean): void;
  /** Called a few times a second. */
  look(isAllLive: boolean): void;
  stop(): void;
}

/** Makes the plan; `scan` is called only when it changes something. */
export const createScanPlan = (options: {
  readonly scheduler: Scheduler;
  readonly scan: (on: boolean) => void;
}): ScanPlan => {
  const { scheduler, scan } = options;
  let isRadioOn = false;
  let isScanning = false;
  let allLiveSince: number | null = null;

  const set = (on: boolean): void => {
    if (on === isScanning) return;
    isScanning = on;
    scan(on);
  };

  return {
    radio: (isOn) => {
      isRadioOn = isOn;
      allLiveSince = null;
      // Asked for anew after every change: a radio that was reset has forgotten.
      if (isOn) isScanning = false;
      set(isOn);
    },
    look: (isAllLive) => {
      if (!isRadioOn) return;
      if (!isAllLive) allLiveSince = null;
      else allLiveSince ??= scheduler.now();
      set(
        allLiveSince === null ||
          (scheduler.now() - allLiveSince) % WAITS.scanPeriod < WAITS.scanListen,
      );
    },
    stop: () => set(false),
  };
};
