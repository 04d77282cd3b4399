import type { Second } from '../units.ts';

/**
 * "Press a pad": finds the pad on which somebody presses or stands. A pad is taken when its load
 * has stayed above its own recent floor by the threshold for a moment, while no other did so more.
 */

/** Newton over the floor that counts as a press: a hand's push, well over noise and creep. */
const PRESS_FORCE = 100;
/** Seconds the press must last: longer than a knock. */
const PRESS_LASTS = 0.25;

interface Watched {
  floor: number;
  since: number | null;
}

export interface PressWatch {
  /** Takes the newest force of a pad (N, zero or not); true when this pad is being pressed. */
  take(serial: string, t: Second, force: number): boolean;
}

/** Makes a watch that begins with the loads as they are. */
export const createPressWatch = (): PressWatch => {
  const pads = new Map<string, Watched>();
  return {
    take: (serial, t, force) => {
      const pad = pads.get(serial);
      if (!pad) {
        pads.set(serial, { floor: force, since: null });
        return false;
      }
      pad.floor = Math.min(pad.floor, force);
      if (force - pad.floor < PRESS_FORCE) {
        pad.since = null;
        return false;
      }
      pad.since ??= t;
      return t - pad.since >= PRESS_LASTS;
    },
  };
};
