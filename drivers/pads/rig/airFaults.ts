import type { NoiseOfLevel } from './noiseLevels.ts';
import type { Random } from './random.ts';

/**
 * What happens to a notification between pad and computer: lost, sent twice, or held back until two
 * or three younger ones have passed. Seeded; it knows nothing of what the bytes mean.
 */
export interface AirFaults {
  /** Passes a notification on, now, later, twice or never. */
  pass(bytes: Uint8Array, send: (bytes: Uint8Array) => void): void;
  /** Forgets what is held back: the link is gone. */
  clear(): void;
  readonly count: { passed: number; lost: number; duplicated: number; late: number };
}

/** Makes the air between one pad and the computer. */
export const createAirFaults = (
  chances: Pick<NoiseOfLevel, 'lost' | 'duplicated' | 'late'>,
  random: Random,
): AirFaults => {
  const count = { passed: 0, lost: 0, duplicated: 0, late: 0 };
  let held: { readonly bytes: Uint8Array; after: number } | null = null;
  return {
    count,
    pass: (bytes, send) => {
      count.passed += 1;
      // One draw for each, always: a change of one chance leaves the others' course as it was.
      const [lost, twice, late] = [random.uniform(), random.uniform(), random.uniform()];
      if (lost < chances.lost) count.lost += 1;
      else if (late < chances.late && held === null) {
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
    clear: () => {
      held = null;
    },
  };
};
