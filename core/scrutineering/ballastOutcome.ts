import type { CrossDiagonal } from '../contract/records.ts';
import { CORNERS, perCorner, type PerCorner } from '../corners.ts';
import { ballastLimits, missed } from './ballastLimits.ts';
import { cornerShares, UNSEEN, type BallastCounts, type BallastProblem } from './ballastProblem.ts';
import { worthOf } from './ballastWorth.ts';
import { passing, type Limit, type Prediction } from './prediction.ts';

/** Mass that comes on (above zero) or goes: another driver, fuel burnt, tyres worn. */
export interface MassChange {
  readonly name: string;
  readonly mass: number;
  readonly x: number;
  readonly y: number;
}

/** Their rule for the total, with what is known of their reading. */
export interface TheirTotal {
  readonly prediction: Prediction;
  readonly limit: Limit;
}

/** What a plan makes of the car: predicted, to be weighed again. kg and fractions of one. */
export interface BallastOutcome {
  readonly ballast: number;
  readonly plates: number;
  readonly loads: PerCorner<number>;
  readonly total: number;
  readonly frontShare: number;
  readonly leftShare: number;
  /** Predicted only: perches, friction and the floor decide it. */
  readonly crossShare: number;
  /** Height of the ballast's own centre; null without ballast or where a place's height is not known. */
  readonly ballastHeight: number | null;
  /** Probability that their total passes; null where nothing was handed in. */
  readonly passing: number | null;
  /** Limits that do not hold and by how much, kg or plates. */
  readonly broken: readonly {
    readonly limit: string;
    readonly by: number;
    readonly unit: string;
  }[];
}

const DIAGONALS = { 'RF+LR': ['RF', 'LR'], 'LF+RR': ['LF', 'RR'] } as const;

/** The problem with other masses on board: the same places, plates and limits. */
export const withChanges = (
  problem: BallastProblem,
  changes: readonly MassChange[],
): BallastProblem => {
  const shares = changes.map((change) => cornerShares(problem, change));
  return {
    ...problem,
    loads: perCorner((corner) =>
      changes.reduce(
        (sum, { mass }, i) => sum + mass * (shares[i]?.[corner] ?? 0),
        problem.loads[corner],
      ),
    ),
  };
};

/**
 * A plan's total, shares, corner weights and cross, and the limits that it breaks; with `changes` for a
 * driver, fuel or wear that are not as weighed. Corner weights follow the car's statics (`cornerShares`),
 * from what was weighed.
 */
export const ballastOutcome = (
  problem: BallastProblem,
  counts: BallastCounts,
  {
    cross,
    theirs,
    changes = [],
  }: {
    readonly cross: CrossDiagonal;
    readonly theirs: TheirTotal | null;
    readonly changes?: readonly MassChange[];
  },
): BallastOutcome => {
  const changed = withChanges(problem, changes);
  const { places, plates } = changed;
  const masses = places.map((_, place) =>
    plates.reduce((sum, { mass }, size) => sum + mass * (counts[place]?.[size] ?? 0), 0),
  );
  const { loads } = withChanges(
    changed,
    places.map(({ name, x, y }, place) => ({ name, x, y, mass: masses[place] as number })),
  );
  const total = CORNERS.reduce((sum, corner) => sum + loads[corner], 0);
  const share = (corners: readonly (keyof typeof loads)[]): number =>
    corners.reduce((sum, corner) => sum + loads[corner], 0) / total;
  const worth = worthOf(problem, counts);
  const heights = places.flatMap(({ z }, place) =>
    (masses[place] as number) > 0 ? [{ z, mass: masses[place] as number }] : [],
  );
  const ballast = worth.grams / 1000;
  return {
    ballast,
    plates: worth.plates,
    loads,
    total,
    frontShare: share(['LF', 'RF']),
    leftShare: share(['LF', 'LR']),
    crossShare: share(DIAGONALS[cross]),
    ballastHeight:
      ballast > 0 && heights.every(({ z }) => z !== null)
        ? heights.reduce((sum, { z, mass }) => sum + mass * (z ?? 0), 0) / ballast
        : null,
    passing: theirs ? passing(theirs.prediction, total, theirs.limit) : null,
    broken: ballastLimits(changed).flatMap((limit) => {
      const by = missed(limit, counts);
      return by > UNSEEN ? [{ limit: limit.name, by, unit: limit.unit }] : [];
    }),
  };
};
