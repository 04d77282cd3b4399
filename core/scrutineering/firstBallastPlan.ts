import { ballastLimits, MUST_READ, type BallastLimit } from './ballastLimits.ts';
import { mostAt, UNSEEN, type BallastCounts, type BallastProblem } from './ballastProblem.ts';
import { compareRank, stepsOf } from './ballastWorth.ts';
import { reachableMasses } from './reachableMasses.ts';

/** What a search may cost, in looks at one row of one change: some tens of milliseconds. */
const MOST_LOOKS = 4e6;
/** Orders in which the plates of one mass are laid out before the next mass is tried. */
const STARTS = 3;

/**
 * A first plan at once, for the solver to prove or improve: masses that the plates can make, the best
 * first that is enough, each in its fewest plates, laid out greedily, the heaviest first, then mended by moving
 * and swapping plates while that brings the limits nearer. Null where none was found, which proves nothing.
 */
export const firstBallastPlan = (problem: BallastProblem): BallastCounts | null => {
  const { places, plates } = problem;
  const limits = ballastLimits(problem);
  const needed = Math.max(
    0,
    ...limits.filter(({ name }) => name === MUST_READ).map(({ low }) => low),
  );
  const { all, sizes } = reachableMasses(plates);
  const rows = limits.filter(({ name }) => name !== MUST_READ);
  const room = places.map((place) => plates.map((size) => mostAt(place, size)));
  const budget = { looks: 0 };
  const ranked = all
    .filter(({ grams }) => grams / 1000 >= needed - UNSEEN)
    .map((made) => ({ ...made, steps: stepsOf(made.grams) }))
    .toSorted((a, b) => compareRank(a, b) || a.grams - b.grams);
  for (const { grams } of ranked) {
    const chosen = sizes(grams)
      .flatMap((count, size) => Array.from({ length: count }, () => size))
      .toSorted((a, b) => (plates[b]?.mass ?? 0) - (plates[a]?.mass ?? 0));
    for (let start = 0; start < STARTS; start += 1) {
      const layout = createLayout(rows, room, plates.length, budget);
      if (chosen.every((size) => layout.add(size, start)) && layout.mend()) return layout.counts;
      if (budget.looks > MOST_LOOKS) return null;
      if (chosen.length === 0) break;
    }
  }
  return null;
};

interface Laid {
  readonly size: number;
  place: number;
}

const createLayout = (
  rows: readonly BallastLimit[],
  room: readonly (readonly number[])[],
  width: number,
  budget: { looks: number },
) => {
  const counts: number[][] = room.map((sizes) => sizes.map(() => 0));
  const sums = rows.map(() => 0);
  /** What lies where, one entry for each plate. */
  const laid: Laid[] = [];

  const value = (row: number, place: number, size: number): number =>
    (rows[row] as BallastLimit).values[place * width + size] as number;
  /** How far the limits are missed once these plates have come and gone. */
  const missedWith = (changes: readonly (readonly [place: number, size: number, by: number])[]) => {
    let total = 0;
    budget.looks += rows.length;
    for (const [row, { low, high }] of rows.entries()) {
      let sum = sums[row] as number;
      for (const [place, size, by] of changes) sum += by * value(row, place, size);
      total += Math.max(low - sum, sum - high, 0);
    }
    return total;
  };
  const change = (place: number, size: number, by: number): void => {
    (counts[place] as number[])[size] = (counts[place]?.[size] ?? 0) + by;
    rows.forEach((_, row) => {
      sums[row] = (sums[row] as number) + by * value(row, place, size);
    });
  };
  const fits = (place: number, size: number): boolean =>
    (counts[place]?.[size] ?? 0) < (room[place]?.[size] ?? 0);

  const canSwap = (one: Laid, other: Laid): boolean =>
    fits(other.place, one.size) && fits(one.place, other.size);
  const move = (one: Laid, to: number): void => {
    change(one.place, one.size, -1);
    change(to, one.size, 1);
    one.place = to;
  };

  return {
    counts,
    /** Lays a plate where it misses least, looking from place `start` on; false where it fits nowhere. */
    add: (size: number, start: number): boolean => {
      let best: { place: number; miss: number } | null = null;
      for (let step = 0; step < room.length; step += 1) {
        const place = (step + start) % room.length;
        if (!fits(place, size)) continue;
        const miss = missedWith([[place, size, 1]]);
        if (!best || miss < best.miss) best = { place, miss };
      }
      if (!best) return false;
      change(best.place, size, 1);
      laid.push({ size, place: best.place });
      return true;
    },
    /** Moves and swaps plates, the best first, while that helps; true once no limit is missed. */
    mend: (): boolean => {
      for (;;) {
        let least = missedWith([]);
        if (least <= UNSEEN) return true;
        let act: (() => void) | null = null;
        const consider = (miss: number, then: () => void): void => {
          if (miss >= least - UNSEEN) return;
          least = miss;
          act = then;
        };
        laid.forEach((one, at) => {
          for (let to = 0; to < room.length; to += 1)
            if (to !== one.place && fits(to, one.size))
              consider(
                missedWith([
                  [one.place, one.size, -1],
                  [to, one.size, 1],
                ]),
                () => move(one, to),
              );
          for (const other of laid.slice(at + 1))
            if (other.place !== one.place && other.size !== one.size && canSwap(one, other))
              consider(
                missedWith([
                  [one.place, one.size, -1],
                  [other.place, one.size, 1],
                  [other.place, other.size, -1],
                  [one.place, other.size, 1],
                ]),
                () => {
                  const from = one.place;
                  move(one, other.place);
                  move(other, from);
                },
              );
        });
        if (!act || budget.looks > MOST_LOOKS) return false;
        (act as () => void)();
      }
    },
  };
};
