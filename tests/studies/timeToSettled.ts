import { CORNERS } from '../../core/corners.ts';
import { createEarly, type EarlyReading } from '../../core/signal/early/early.ts';
import { createSettle } from '../../core/signal/settle.ts';
import { studentT } from '../../core/signal/studentT.ts';
import { createNoise } from '../core/signal/noise.ts';
import { WANTED } from './boundTime.ts';
import { loadOf, type ModalCar } from './modalCar.ts';

/** What one drop of the modal car gave, times in seconds from when it was let go, or stuck. */
export interface Drop {
  /** First reading within ±0.2 kg by its own 95 % interval; null for never. */
  readonly early: number | null;
  readonly waiting: number | null;
  /** How far the worst of the four was off at that moment, N; 0 for never. */
  readonly earlyError: number;
  readonly waitingError: number;
  /** What each look of the early estimator took, ms; the first ones warm the engine up. */
  readonly costs: readonly number[];
}

export interface DropOptions {
  readonly noise: number;
  readonly seed: number;
  /** Seconds after which it sticks where it is, for good: friction that stops it; left out, never. */
  readonly sticksAfter?: number;
}

export const RATE = 80;
/** Looks of the early estimator a second. */
export const LOOKS = 20;
const LONGEST = 12;

/** Half the 95 % interval of the worst corner of a reading, N. */
export const halfWidth = (reading: EarlyReading): number =>
  Math.max(
    ...CORNERS.map((corner) => reading.corners[corner]).map(
      ({ u, dof }) => u * studentT(0.05, dof),
    ),
  );

/**
 * Lets the car go after a second and a half on empty pads, and listens until both have said. Waiting
 * speaks of its own mean by what noise and drift leave of it, as `createSettle` has it.
 */
export const dropOnce = (car: ModalCar, options: DropOptions): Drop => {
  const { noise, seed, sticksAfter = Infinity } = options;
  const chance = createNoise(seed);
  const early = createEarly();
  const settle = createSettle();
  const letGo = 1.5 + chance.uniform() / LOOKS;
  /** From when on a reading counts, and what it should be. */
  const counts = Number.isFinite(sticksAfter) ? letGo + sticksAfter : letGo;
  const truths = CORNERS.map((_, pad) =>
    Number.isFinite(sticksAfter) ? loadOf(car, pad, sticksAfter) : (car.settled[pad] as number),
  );
  const next = CORNERS.map(() => chance.uniform() / RATE);
  const costs: number[] = [];
  const found = {
    early: null as number | null,
    waiting: null as number | null,
    earlyError: 0,
    waitingError: 0,
  };
  const worst = (values: readonly number[]): number =>
    Math.max(...values.map((value, pad) => Math.abs(value - (truths[pad] as number))));
  for (let look = 1; look < (counts + LONGEST) * LOOKS; look += 1) {
    const now = look / LOOKS;
    CORNERS.forEach((corner, pad) => {
      for (let t = next[pad] as number; t <= now; t += 1 / RATE) {
        const force = loadOf(car, pad, Math.min(t - letGo, sticksAfter)) + noise * chance.normal();
        early.corners[corner].push(t, force);
        settle.corners[corner].push(t, force);
        next[pad] = t + 1 / RATE;
      }
    });
    if (found.early === null) {
      const before = performance.now();
      const seen = early.look();
      costs.push(performance.now() - before);
      if (seen.ok && seen.reading.to > counts + 0.02 && halfWidth(seen.reading) <= WANTED) {
        found.early = now - counts;
        found.earlyError = worst(CORNERS.map((corner) => seen.reading.corners[corner].value));
      }
    }
    const four = settle.now();
    if (found.waiting === null && four.settled && four.settled.from > counts) {
      const corners = CORNERS.map((corner) => settle.corners[corner].now().settled);
      const known = corners.every((one) => one && one.u * studentT(0.05, one.dof) <= WANTED);
      if (known) {
        found.waiting = now - counts;
        found.waitingError = worst(corners.map((one) => one?.mean ?? NaN));
      }
    }
    if (found.early !== null && found.waiting !== null) break;
  }
  return { ...found, costs };
};
