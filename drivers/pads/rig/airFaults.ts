import type { NoiseOfLevel } from './noiseLevels.ts';
import type { Random } from './random.ts';

/** Chances per notification, 0 to 1. */
export interface AirChances extends Pick<NoiseOfLevel, 'lost' | 'duplicated' | 'late'> {
  /** How many in a row are lost when one is; one where not given. */
  readonly burst?: number;
}

/**
 * What happens to a notification between pad and computer: lost, alone or in bursts, sent twice, or
 * held back until two or three younger ones have passed. Seeded; it knows nothing of what the bytes
 * mean.
 */
export interface AirFaults {
  /** Passes a notification on, now, later, twice or never. */
  pass(bytes: Uint8Array, send: (bytes: Uint8Array) => void): void;
  /** From the next notification on. */
  change(chances: AirChances): void;
  /** Forgets what is held back: the link is gone. */
  clear(): void;
  readonly count: { passed: number; lost: number; duplicated: number; late: number };
}

/** Makes the air between one pad and the computer. */
export const createAirFaults = (first: AirChances, random: Random): AirFaults => {
  let chances = first;
  /** Still to be lost of a burst. */
  let toLose = 0;
  const count = { passed: 0, lost: 0, duplicated: 0, late: 0 };
  let held: { readonly bytes: Uint8Array; after: number } | null = null;
  return {
    count,
    pass: (bytes, send) => {
      count.passed += 1;
      // One draw for each, always: a change of one chance leaves the others' course as it was.
      const [lost, twice, late] = [random.uniform(), random.uniform(), random.uniform()];
      if (toLose === 0 && lost < chances.lost) toLose = chances.burst ?? 1;
      if (toLose > 0) {
        toLose -= 1;
        count.lost += 1;
      } else if (late < chances.late && held === null) {
        count.late += 1;
        held = { bytes, after: late < chances.late / 2 ? 2 : 3 };
        return;
      } else {
        send(bytes);
        if (twice < chances.duplicated) {
          count.duplicated += 1;
          send(bytes);
        }
      }
      if (held === null) return;
      held.after -= 1;
      if (held.after > 0) return;
      const { bytes: old } = held;
      held = null;
      send(old);
    },
    change: (next) => {
      chances = next;
      toLose = 0;
    },
    clear: () => {
      held = null;
    },
  };
};
