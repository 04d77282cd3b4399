import { createHold } from './hold.ts';
import type { SettleOptions } from './settleOptions.ts';

/** The default window and the two longer ones. */
export const LEVELS = 3;

/** What the windows of one corner, or the worst of four, say at a tick, level by level. */
export interface Verdicts {
  /**
   * How far the level is over its worst limit: at most 1 passes. Infinity where the window was not
   * full, the tick was not judged or is forgotten.
   */
  failing(level: number, tick: number): number;
  /**
   * The same for a significant drift alone, where the window is a straight line but for noise; 0
   * where it is none or is not known.
   */
  drifting(level: number, tick: number): number;
}

/** Settled or not, over time. */
export interface Verdict {
  /** Time since when it has been settled, s; null while it is not. */
  readonly since: number | null;
  /**
   * The newest tick that was not over the limits of leaving, and the longest level that passed there
   * (the best one where none did): what is shown as settled, so that the first samples of a motion
   * are not part of it while the verdict is held.
   */
  readonly tick: number;
  readonly level: number;
  next(tick: number, verdicts: Verdicts): void;
  restart(): void;
}

/**
 * Joins the levels into one verdict, with hysteresis. Settled while any level passes and no level is
 * a steady drift: what the short window is too short to see, a longer one that has become a straight
 * line does. One that still holds the fall of the car is no line and has no say.
 */
export const createVerdict = (options: SettleOptions): Verdict => {
  const hold = createHold(options);
  let since: number | null = null;
  let heldTick = -Infinity;
  let level = 0;
  return {
    get since() {
      return since;
    },
    get tick() {
      return heldTick;
    },
    get level() {
      return level;
    },
    next: (tick, verdicts) => {
      let best = 0;
      let least = Infinity;
      let drifting = 0;
      for (let at = 0; at < LEVELS; at += 1) {
        const failing = verdicts.failing(at, tick);
        if (failing <= Math.max(1, least)) best = at;
        least = Math.min(least, failing);
        drifting = Math.max(drifting, verdicts.drifting(at, tick));
      }
      const worst = Math.max(least, drifting);
      hold.next(worst);
      since = hold.inside ? (since ?? tick * options.tick) : null;
      if (worst <= options.leave) {
        heldTick = tick;
        level = best;
      }
    },
    restart: () => {
      hold.restart();
      since = null;
    },
  };
};
