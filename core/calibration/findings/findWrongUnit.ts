import type { Finding } from '../../contract/calibrationRecord.ts';
import { fixed, HARD_SPACE } from '../../format/number.ts';
import { inWords, massShown } from '../../format/quantity.ts';
import type { MassSet, ReferenceMass } from '../../sheet/massSet.ts';
import { KILOGRAM_PER_POUND, massFrom } from '../../units.ts';
import { massKnown } from '../appliedMass.ts';
import type { PlacedPoint } from '../placePoints.ts';
import { polynomialFit } from '../polynomialFit.ts';
import { lineScatter } from './lineScatter.ts';

/** What a mass typed in the wrong unit is over what it was taken for. */
const FACTORS = [1 / KILOGRAM_PER_POUND, KILOGRAM_PER_POUND] as const;

/**
 * A correction is believed where it takes the scatter down to an eighth and to what a sound pad leaves
 * (0.2 % of the top load): a factor of 2.2 on one mass is not met by chance. Common practice, no source.
 */
const LESS_SCATTER = 8;
const SOUND = 2e-3;
/**
 * Less scatter than this share of the top load about a cubic leaves nothing to look for: a pad may be
 * bent, but a wrong mass makes steps.
 */
const NOTHING_WRONG = 3e-4;
/** How far the span of a pad may be from its rating and still show a factor of 2.2 on all masses. */
const RATING_TRUSTED = 0.05;

type Correction = ReadonlyMap<string, number>;

const corrected =
  (set: MassSet, correction: Correction, gravity: number) =>
  (point: PlacedPoint): number =>
    point.taken.massIds.reduce((sum, id) => {
      const mass = set.masses.find((each) => each.id === id);
      const factor = correction.get(id);
      if (!mass || factor === undefined) return sum;
      return sum + (factor - 1) * massKnown(mass).value * gravity;
    }, point.force);

/** Masses corrected at once, at most, and how many of the best corrections are carried on. */
const MOST_WRONG = 3;
const MOST_CARRIED = 24;

/** Of like masses that always stood together only two are tried: loads cannot tell them apart. */
const worthTrying = (points: readonly PlacedPoint[], set: MassSet): readonly string[] => {
  const used = set.masses.filter(({ id }) =>
    points.some(({ taken }) => taken.massIds.includes(id)),
  );
  const together = Map.groupBy(
    used,
    (mass) =>
      `${points.map(({ taken }) => (taken.massIds.includes(mass.id) ? '1' : '0')).join('')} ${massKnown(mass).value}`,
  );
  return [...together.values()].flatMap((like) => like.slice(0, 2).map(({ id }) => id));
};

/** The fewest corrections that take the scatter below `wanted`, newton; null where none do. */
const fewestCorrections = (
  points: readonly PlacedPoint[],
  about: { readonly set: MassSet; readonly gravity: number; readonly wanted: number },
): Correction | null => {
  const ids = worthTrying(points, about.set);
  const used = new Set(points.flatMap(({ taken }) => taken.massIds)).size;
  let carried: readonly Correction[] = [new Map()];
  // More than half of the masses wrong alike is the same as the others wrong the other way.
  for (let count = 1; count <= MOST_WRONG && 2 * count <= used; count += 1) {
    const tried = carried.flatMap((correction) =>
      ids
        // In the order of the ids, so that no set of corrections is tried twice.
        .slice(ids.indexOf([...correction.keys()].at(-1) ?? '') + 1)
        .flatMap((id) =>
          FACTORS.map((factor) => {
            const next = new Map(correction).set(id, factor);
            const scatter = lineScatter(points, corrected(about.set, next, about.gravity));
            return { correction: next, sd: scatter?.sd ?? Infinity };
          }),
        ),
    );
    const best = tried.toSorted((a, b) => a.sd - b.sd);
    if (best[0] && best[0].sd < about.wanted) return best[0].correction;
    carried = best.slice(0, MOST_CARRIED).map(({ correction }) => correction);
  }
  return null;
};

/** Scatter about a cubic as a force, newton; Infinity where none can be fitted. */
const aboutCubic = (points: readonly PlacedPoint[], slope: number): number => {
  const cubic = polynomialFit(
    points.map(({ force, taken, zero }) => ({ x: force, y: taken.counts.value, cycle: zero })),
    { degree: 3 },
  );
  return cubic.ok ? cubic.fit.residualSd / Math.abs(slope) : Infinity;
};

const kg = (mass: number): string => inWords(massShown('kg', mass, { decimals: 2 }));

const finding = (
  masses: readonly [ReferenceMass, number][],
  points: Finding['points'],
): Finding => {
  const each = masses.map(([mass, factor]) => {
    const { value, unit } = mass.nominal;
    const taken = massFrom(unit, value);
    return `${mass.label}, typed as ${value}${HARD_SPACE}${unit}, acts like ${kg(taken * factor)}, ${fixed(factor, 4)} times as much`;
  });
  return {
    code: 'wrong unit',
    weight: 'refuses',
    what: `${each.join('; ')}.`,
    why: 'A factor of 2.2046 is that of kilogram and pound: the number was typed in the wrong unit.',
    next: 'Look at the mass and correct its unit in the mass set; the points stay and are computed again.',
    points: [...points],
  };
};

/** Counts per newton by the maker's rating. */
export const ratedSlope = (
  rating: { readonly ratedLoad: number; readonly countsAtRatedLoad: number } | null,
  standardGravity: number,
): number | null => {
  if (!rating) return null;
  const slope = rating.countsAtRatedLoad / (rating.ratedLoad * standardGravity);
  return Number.isFinite(slope) && slope !== 0 ? slope : null;
};

/**
 * Looks for masses typed in the wrong unit: those that would fit the others, being 2.2046 times more or
 * less; or all of them, by the rating of the pad.
 */
export const findWrongUnit = (
  points: readonly PlacedPoint[],
  about: {
    readonly masses: MassSet;
    readonly gravity: number;
    /** Counts per newton by the rating; null where the pad does not say. */
    readonly ratedSlope: number | null;
  },
): Finding | null => {
  const asTyped = lineScatter(points);
  if (!asTyped) return null;
  const top = Math.max(0, ...points.map(({ force }) => force));
  const loaded = points.filter(({ isZero }) => !isZero);

  const correction =
    asTyped.sd < NOTHING_WRONG * top || aboutCubic(points, asTyped.slope) < NOTHING_WRONG * top
      ? null
      : fewestCorrections(points, {
          set: about.masses,
          gravity: about.gravity,
          wanted: Math.min(asTyped.sd / LESS_SCATTER, SOUND * top),
        });
  if (correction) {
    const wrong = about.masses.masses.flatMap((mass): [ReferenceMass, number][] => {
      const factor = correction.get(mass.id);
      return factor === undefined ? [] : [[mass, factor]];
    });
    const stoodOn = points.filter(({ taken }) => taken.massIds.some((id) => correction.has(id)));
    return finding(
      wrong,
      stoodOn.map(({ taken }) => taken.number),
    );
  }
  if (about.ratedSlope === null) return null;
  const ratio = asTyped.slope / about.ratedSlope;
  const factor = FACTORS.find((each) => Math.abs(ratio / each - 1) < RATING_TRUSTED);
  if (factor === undefined) return null;
  return {
    code: 'wrong unit',
    weight: 'refuses',
    what: `All masses act like ${fixed(factor, 4)} times what was typed, by the rating of the pad.`,
    why: 'A factor of 2.2046 is that of kilogram and pound: the numbers were typed in the wrong unit.',
    next: 'Look at the masses and correct their unit in the mass set; the points stay and are computed again.',
    points: loaded.map(({ taken }) => taken.number),
  };
};
