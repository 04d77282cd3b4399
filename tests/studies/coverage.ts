import { CORNERS } from '../../core/corners.ts';
import { studentT } from '../../core/signal/studentT.ts';
import { WANTED } from './boundTime.ts';
import { lowerOnce, type LoweringOptions } from './rigLowering.ts';
import { halfWidth } from './timeToSettled.ts';

export interface Share {
  readonly held: number;
  readonly of: number;
}

/** How often 95 % intervals held their truth, over many lowerings and the four corners. */
export interface Coverage {
  /** Waiting, noise alone, at the first *settled*: of the mean load over its window. */
  readonly waiting: Share;
  /** Waiting as captured, the drift in the window counted: of the load at rest. */
  readonly captured: Share;
  /** Early at the first reading within ±0.2 kg, and at every look that spoke: of the load at rest. */
  readonly early: Share;
  readonly everyLook: Share;
  /** First early readings that were off by more than 0.2 kg, and captured means. */
  readonly earlyOff: Share;
  readonly waitingOff: Share;
  /** Seconds from when the jack began to go down; null for never. */
  readonly times: readonly { readonly early: number | null; readonly waiting: number | null }[];
}

/** Lowers the car once for each seed and counts. */
export const coverage = (seeds: readonly number[], options: LoweringOptions): Coverage => {
  const found = {
    waiting: { held: 0, of: 0 },
    captured: { held: 0, of: 0 },
    early: { held: 0, of: 0 },
    everyLook: { held: 0, of: 0 },
    earlyOff: { held: 0, of: 0 },
    waitingOff: { held: 0, of: 0 },
  };
  const count = (what: keyof typeof found, held: boolean): void => {
    found[what].of += 1;
    if (held) found[what].held += 1;
  };
  const holds = (error: number, { u, dof }: { readonly u: number; readonly dof: number }) =>
    Math.abs(error) <= u * studentT(0.05, dof);

  const times = seeds.map((seed) => {
    const { rest, looks, waited } = lowerOnce(seed, options);
    let first: number | null = null;
    for (const { at, look } of looks) {
      if (!look.ok) continue;
      const isFirst = first === null && halfWidth(look.reading) <= WANTED;
      if (isFirst) first = at;
      CORNERS.forEach((corner, pad) => {
        const one = look.reading.corners[corner];
        const error = one.value - (rest[pad] as number);
        count('everyLook', holds(error, one));
        if (!isFirst) return;
        count('early', holds(error, one));
        count('earlyOff', Math.abs(error) > WANTED);
      });
    }
    if (waited)
      CORNERS.forEach((corner, pad) => {
        const one = waited.four.corners[corner];
        const error = one.mean - (rest[pad] as number);
        count(
          'waiting',
          holds(one.mean - (waited.truths[pad] as number), waited.four.noise[corner]),
        );
        count('captured', holds(error, one));
        count('waitingOff', Math.abs(error) > WANTED);
      });
    return { early: first, waiting: waited?.at ?? null };
  });
  return { ...found, times };
};
