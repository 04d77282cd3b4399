import type { PerCorner } from '../corners.ts';
import { cornerShares, type BallastCounts, type BallastProblem } from './ballastProblem.ts';

/**
 * A limit of the plan as a row over the counts: low ≤ Σ values·count ≤ high, in kg or plates; columns are
 * place by place, size by size. Shares enter as deviations of a moment, Σ m·(φ − f)·count against
 * f·M − F, and not as ratios, so that every row is linear: kg of load on that axle or side.
 */
export interface BallastLimit {
  readonly name: string;
  readonly unit: 'kg' | 'plates';
  readonly values: readonly number[];
  readonly low: number;
  readonly high: number;
}

const FREE = Infinity;

/** The name of the limit from below that the total has. */
export const MUST_READ = 'total we must read';

/** Share of each kg at each place, front and left, and the car's own load there. */
interface Shared {
  readonly own: number;
  readonly perPlace: readonly number[];
}

const shareRows = (
  { places, plates }: BallastProblem,
  {
    name,
    shared,
    mass,
    band,
  }: {
    readonly name: string;
    readonly shared: Shared;
    readonly mass: number;
    readonly band: BallastProblem['frontShare'];
  },
): readonly BallastLimit[] =>
  (['low', 'high'] as const).flatMap((side) => {
    const limit = band[side];
    if (limit === null) return [];
    const values = places.flatMap((_, place) =>
      plates.map((size) => size.mass * ((shared.perPlace[place] as number) - limit)),
    );
    const needed = limit * mass - shared.own;
    return [
      {
        name: `${name} at ${side === 'low' ? 'least' : 'most'} ${Number((100 * limit).toFixed(3))} %`,
        unit: 'kg',
        values,
        low: side === 'low' ? needed : -FREE,
        high: side === 'low' ? FREE : needed,
      },
    ];
  });

/** Every limit that a plan must keep. */
export const ballastLimits = (problem: BallastProblem): readonly BallastLimit[] => {
  const { loads, places, plates, total, mostBallast } = problem;
  const masses = places.flatMap(() => plates.map(({ mass }) => mass));
  const mass = loads.LF + loads.RF + loads.LR + loads.RR;
  const shares = places.map((place) => cornerShares(problem, place));
  const sum = (of: (share: PerCorner<number>) => number): readonly number[] => shares.map(of);
  const only = (values: readonly number[], is: (place: number, size: number) => boolean) =>
    values.map((value, column) =>
      is(Math.floor(column / plates.length), column % plates.length) ? value : 0,
    );
  const ones = masses.map(() => 1);
  const side = (
    name: string,
    values: readonly number[],
    low: number | null,
    high: number | null,
  ) =>
    low === null && high === null
      ? []
      : [{ name, unit: 'kg' as const, values, low: low ?? -FREE, high: high ?? FREE }];
  return [
    ...side(MUST_READ, masses, total.low === null ? null : total.low - mass, null),
    ...side('total at most', masses, null, total.high === null ? null : total.high - mass),
    ...side('most ballast allowed', masses, null, mostBallast),
    ...shareRows(problem, {
      name: 'front share',
      shared: { own: loads.LF + loads.RF, perPlace: sum((share) => share.LF + share.RF) },
      mass,
      band: problem.frontShare,
    }),
    ...shareRows(problem, {
      name: 'left share',
      shared: { own: loads.LF + loads.LR, perPlace: sum((share) => share.LF + share.LR) },
      mass,
      band: problem.leftShare,
    }),
    ...places.flatMap((place, at) => [
      // Each side is a row of its own: a row is loosened one way only.
      ...side(
        `mass that must be at ${place.name}`,
        only(masses, (p) => p === at),
        place.leastMass,
        null,
      ),
      ...side(
        `mass at ${place.name}`,
        only(masses, (p) => p === at),
        null,
        place.mostMass,
      ),
      ...(place.mostPlates === null
        ? []
        : [
            {
              name: `plates at ${place.name}`,
              unit: 'plates' as const,
              values: only(ones, (p) => p === at),
              low: -FREE,
              high: place.mostPlates,
            },
          ]),
    ]),
    ...plates.map((size, at) => ({
      name: `plates owned of ${size.name}`,
      unit: 'plates' as const,
      values: only(ones, (_, s) => s === at),
      low: -FREE,
      high: size.count,
    })),
  ];
};

/** By how much the counts miss a limit: above zero is missed. */
export const missed = ({ values, low, high }: BallastLimit, counts: BallastCounts): number => {
  const flat = counts.flat();
  const sum = values.reduce((total, value, i) => total + value * (flat[i] ?? 0), 0);
  return Math.max(low - sum, sum - high, 0);
};
