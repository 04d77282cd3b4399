import { LIMITS } from './limits.ts';

/**
 * What fits right after trouble is on trial before it is believed: hands on the car, a jack, wheels that
 * land and struts that stick let the loads look like free motion for a moment, and not for long.
 */
export interface Trial {
  /** A window was given up, or an event broke it, at a time, s. */
  trouble(at: number): void;
  /** A window fits. */
  fits(): void;
  isOn(t: number): boolean;
  restart(): void;
}

/** Makes one that has seen no trouble. */
export const createTrial = (): Trial => {
  let isFitting = false;
  let troubledAt = -Infinity;
  let until = -Infinity;
  /** How often a fit has ended again of late, and when last. */
  let relapses = 0;
  let relapsedAt = -Infinity;
  return {
    trouble: (at) => {
      if (isFitting) {
        relapses = at - relapsedAt < LIMITS.memory ? relapses + 1 : 0;
        relapsedAt = at;
        isFitting = false;
      }
      // One event by itself is the car let go, and its motion is free at once.
      if (at - troubledAt < LIMITS.calm)
        until = at + (LIMITS.trials[Math.min(relapses, LIMITS.trials.length - 1)] as number);
      troubledAt = at;
    },
    fits: () => {
      isFitting = true;
    },
    isOn: (t) => t < until,
    restart: () => {
      isFitting = false;
      troubledAt = until = relapsedAt = -Infinity;
      relapses = 0;
    },
  };
};
