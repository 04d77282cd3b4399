import { CORNERS } from '../../core/corners.ts';
import { createEarly } from '../../core/signal/early/early.ts';
import { createSettle } from '../../core/signal/settle.ts';
import { createNoise, type Noise } from '../core/signal/noise.ts';
import { WANTED } from './boundTime.ts';
import { halfWidth } from './timeToSettled.ts';

/** A load that must not be called settled, or not at a wrong value. */
export interface Trap {
  readonly name: string;
  /** Standard deviation of a sample, N. */
  readonly noise: number;
  /** True loads over time, N, made anew for each run; at Infinity where they end, if they do. */
  readonly make: (chance: Noise) => (pad: number, t: number) => number;
}

const LOADS = [3064, 3015, 3381, 3337];
const WARP = [1, -1, -1, 1];
/** Shares of a push at the left of the rear wing. */
const LEAN = [-0.05, -0.08, 0.68, 0.45];
const SECONDS = 16;
const RATE = 80;
const LOOKS = 10;

/** A person's swaying about a steady push: Ornstein-Uhlenbeck, stepped at a hundredth of a second. */
const swaying = (chance: Noise, sd: number, time: number): ((t: number) => number) => {
  const step = 0.01;
  const path = [sd * chance.normal()];
  for (let i = 1; i <= (SECONDS + 1) / step; i += 1) {
    const kept = Math.exp(-step / time);
    path.push((path[i - 1] as number) * kept + sd * Math.sqrt(1 - kept * kept) * chance.normal());
  }
  return (t) => {
    if (t === Infinity) return NaN;
    const at = Math.floor(t / step);
    const share = t / step - at;
    return (path[at] as number) * (1 - share) + (path[at + 1] as number) * share;
  };
};

const between = (chance: Noise, low: number, high: number): number =>
  low * (high / low) ** chance.uniform();

/** Sizes are common practice without a source: what a paddock does to four pads. */
export const TRAPS: readonly Trap[] = [
  {
    name: 'one corner drifts by 0.5 to 5 N/s',
    noise: 0.05,
    make: (chance) => {
      const rate = between(chance, 0.5, 5);
      const which = Math.floor(4 * chance.uniform());
      return (pad, t) => (LOADS[pad] as number) + (pad === which ? rate * t : 0);
    },
  },
  {
    name: 'the car creeps by 10 to 40 N in 3 to 30 s',
    noise: 0.05,
    make: (chance) => {
      const size = between(chance, 10, 40);
      const time = between(chance, 3, 30);
      return (pad, t) =>
        (LOADS[pad] as number) + (WARP[pad] as number) * size * Math.exp(-t / time);
    },
  },
  {
    name: 'somebody leans on it and sways by 9 N',
    noise: 0.05,
    make: (chance) => {
      const sway = swaying(chance, 9, 1.5);
      return (pad, t) => (LOADS[pad] as number) + (LEAN[pad] as number) * (180 + sway(t));
    },
  },
  {
    name: 'harsh noise of 50 g',
    noise: 0.49,
    make: () => (pad) => LOADS[pad] as number,
  },
  {
    name: 'harsh noise of 300 g',
    noise: 2.94,
    make: () => (pad) => LOADS[pad] as number,
  },
];

/**
 * Looks, and those at which *settled* was said of a value off by more than 0.3 kg from the load then; for
 * early, which speaks of the end, from all that lies between the load then and where it ends.
 */
export interface FalseSettled {
  readonly looks: number;
  readonly waiting: number;
  readonly early: number;
}

/** Off by more than this is wrong, N: 0.3 kg, what a settled window is allowed to drift. */
const WRONG = 0.3 * 9.80665;

/** Runs a trap so many times. An early reading counts where its 95 % intervals are within ±0.2 kg. */
export const fallInto = (trap: Trap, runs: number, seed: number): FalseSettled => {
  const found = { looks: 0, waiting: 0, early: 0 };
  const chance = createNoise(seed);
  for (let run = 0; run < runs; run += 1) {
    const load = trap.make(chance);
    const settle = createSettle();
    const early = createEarly();
    const next = CORNERS.map(() => chance.uniform() / RATE);
    for (let look = 1; look <= SECONDS * LOOKS; look += 1) {
      const now = look / LOOKS;
      CORNERS.forEach((corner, pad) => {
        for (let t = next[pad] as number; t <= now; t += 1 / RATE) {
          const force = load(pad, t) + trap.noise * chance.normal();
          settle.corners[corner].push(t, force);
          early.corners[corner].push(t, force);
          next[pad] = t + 1 / RATE;
        }
      });
      found.looks += 1;
      const isWrong = (value: number, pad: number): boolean =>
        Math.abs(value - load(pad, now)) > WRONG;
      if (settle.now().stillness === 'settled') {
        const means = CORNERS.map((corner) => settle.corners[corner].now().settled?.mean ?? NaN);
        if (means.some(isWrong)) found.waiting += 1;
      }
      const seen = early.look();
      if (seen.ok && halfWidth(seen.reading) <= WANTED) {
        const values = CORNERS.map((corner) => seen.reading.corners[corner].value);
        const isOutside = (value: number, pad: number): boolean => {
          const last = load(pad, Infinity);
          const end = Number.isFinite(last) ? last : load(pad, now);
          const low = Math.min(end, load(pad, now)) - WRONG;
          const high = Math.max(end, load(pad, now)) + WRONG;
          return value < low || value > high;
        };
        if (values.some(isOutside)) found.early += 1;
      }
    }
  }
  return found;
};
