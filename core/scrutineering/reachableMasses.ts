import type { PlateSize } from './ballastProblem.ts';
import { gramsOf } from './ballastWorth.ts';

/** Which masses the plates owned can make, wherever they go. */
export interface ReachableMasses {
  /** Every mass, ascending, with the fewest plates that make it. Grams. */
  readonly all: readonly { readonly grams: number; readonly plates: number }[];
  /** Plates of each size of the fewest that make a mass of `all`. */
  readonly sizes: (grams: number) => readonly number[];
}

const gcd = (a: number, b: number): number => (b === 0 ? a : gcd(b, a % b));

/**
 * Bounded subset sums by dynamic programming, fewest plates first: what any plan must weigh at least,
 * before places are looked at. Time and memory grow with the mass of all plates over their greatest
 * common step.
 */
export const reachableMasses = (plates: readonly PlateSize[]): ReachableMasses => {
  const grams = plates.map(gramsOf);
  const step =
    plates.reduce((sum, { count }, i) => (count > 0 ? gcd(grams[i] as number, sum) : sum), 0) || 1;
  const units = grams.map((own) => own / step);
  const most = plates.reduce((sum, { count }, i) => sum + count * (units[i] as number), 0);
  const NONE = 0xffff;
  const fewest = new Uint16Array(most + 1).fill(NONE);
  fewest[0] = 0;
  // By size and sum: how many of this size the fewest take, given the sizes before.
  const taken = plates.map(() => new Uint16Array(most + 1));
  let reach = 0;
  plates.forEach(({ count }, i) => {
    const unit = units[i] as number;
    const before = fewest.slice();
    const own = taken[i] as Uint16Array;
    reach += count * unit;
    for (let sum = 0; sum <= reach; sum += 1)
      for (let k = 1; k <= count && k * unit <= sum; k += 1) {
        const rest = before[sum - k * unit] as number;
        if (rest === NONE || rest + k >= (fewest[sum] as number)) continue;
        fewest[sum] = rest + k;
        own[sum] = k;
      }
  });
  const all: { grams: number; plates: number }[] = [];
  fewest.forEach((count, sum) => {
    if (count !== NONE) all.push({ grams: sum * step, plates: count });
  });
  return {
    all,
    sizes: (wanted) => {
      let sum = wanted / step;
      const counts = plates.map(() => 0);
      for (let i = plates.length - 1; i >= 0; i -= 1) {
        const k = (taken[i] as Uint16Array)[sum] as number;
        counts[i] = k;
        sum -= k * (units[i] as number);
      }
      return counts;
    },
  };
};
