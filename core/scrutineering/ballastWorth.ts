import type { BallastCounts, BallastProblem, PlateSize } from './ballastProblem.ts';

/**
 * Plans whose mass rounds up to the same tenth of a kilogram count as equally heavy, and the one of fewer
 * plates is better: to the gram, the least mass would be made of every small plate there is. Grams; no
 * source.
 */
export const STEP = 100;

/** What plans are ranked by: less mass, in steps, then fewer plates. */
export interface BallastRank {
  readonly steps: number;
  readonly plates: number;
}

export interface BallastWorth extends BallastRank {
  readonly grams: number;
}

/** Plates are weighed to the gram. */
export const gramsOf = ({ mass }: PlateSize): number => Math.round(mass * 1000);

export const stepsOf = (grams: number): number => Math.ceil(grams / STEP);

export const worthOf = (
  { plates }: Pick<BallastProblem, 'plates'>,
  counts: BallastCounts,
): BallastWorth => {
  const each = plates.map((size, i) => ({
    grams: gramsOf(size),
    count: counts.reduce((sum, place) => sum + (place[i] ?? 0), 0),
  }));
  const grams = each.reduce((sum, size) => sum + size.count * size.grams, 0);
  return {
    grams,
    steps: stepsOf(grams),
    plates: each.reduce((sum, { count }) => sum + count, 0),
  };
};

/** Below zero where `a` is the better plan. */
export const compareRank = (a: BallastRank, b: BallastRank): number =>
  a.steps - b.steps || a.plates - b.plates;
