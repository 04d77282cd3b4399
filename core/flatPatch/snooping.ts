import { CORNERS } from '../corners.ts';
import type { Adjustment } from './networkAdjustment.ts';
import { covarianceOf } from './networkAdjustment.ts';
import type { LevelSurvey } from './levelSurvey.ts';
import { pureScatter, ratioTail } from './sightScatter.ts';

/** Sights that may all be off by one and the same amount. */
export interface Suspicion {
  readonly kind: 'sight' | 'point in one set-up' | 'pad in one set-up' | 'point';
  /** Places in the survey. */
  readonly sights: readonly number[];
  /** By how much they read more than the rest says, metre. */
  readonly offset: number;
}

/** Family-wise: the chance that a sound survey has anything set aside. Common practice, no source. */
const FAMILY = 0.01;
/** Suspicions that explain the readings equally well, but for rounding. */
const SAME = 0.999;
/** Less of an error than this share showing in residuals is not looked for. */
const LEAST_SHOWN = 1e-6;

const groupsOf = (
  survey: LevelSurvey,
  kept: readonly number[],
): readonly Omit<Suspicion, 'offset'>[] => {
  const point = (index: number) =>
    survey.points.find(({ id }) => id === survey.sights[index]?.point) ?? null;
  const setUp = (index: number): string => survey.sights[index]?.setUp ?? '';
  const grouped = (kind: Suspicion['kind'], key: (index: number) => string) =>
    [...Map.groupBy(kept, key).values()].map((sights) => ({ kind, sights }));
  const all = [
    ...grouped('sight', (index) => String(index)),
    // Before its sights from one set-up: a point seen from only one has no other to differ from.
    ...grouped('point', (index) => point(index)?.id ?? ''),
    ...grouped('point in one set-up', (index) => JSON.stringify([setUp(index), point(index)?.id])),
    ...CORNERS.flatMap((corner) =>
      [
        ...Map.groupBy(
          kept.filter((i) => point(i)?.pad === corner),
          setUp,
        ).values(),
      ].map((sights) => ({ kind: 'pad in one set-up' as const, sights })),
    ),
  ];
  const seen = new Set<string>();
  return all.filter(({ sights }) => {
    const key = sights.join();
    return seen.has(key) ? false : seen.add(key);
  });
};

/** A mean square with its degrees of freedom, the stated scatter pooled with it. */
const meanSquare = (
  survey: LevelSurvey,
  squares: number,
  dof: number,
): { readonly mean: number; readonly dof: number } | null => {
  const stated = survey.sightScatter;
  if (stated?.dof === Infinity) return { mean: stated.sd ** 2, dof: Infinity };
  const all = dof + (stated?.dof ?? 0);
  return all < 1
    ? null
    : { mean: (Math.max(0, squares) + (stated ? stated.dof * stated.sd ** 2 : 0)) / all, dof: all };
};

/**
 * Data snooping: the likeliest of the suspicions that some sights are off by one common amount, or null
 * where chance explains them all. Test of one added unknown against the rest, generalised from one
 * sight to a group (W. Baarda, A testing procedure for use in geodetic networks, 1968), as an F test with
 * the scatter taken from what is left (externally studentised), Bonferroni over all suspicions. One of
 * several repeats is held against its own repeats; whole points against what points scatter, which on
 * pads that are not plane is more than repeats show. More than one answer: these explain the readings
 * equally well.
 */
export const likeliestSuspicion = (
  survey: LevelSurvey,
  adjustment: Adjustment,
): readonly Suspicion[] | null => {
  const rows = adjustment.network.rows.filter((row) => row.sight !== null);
  const kept = rows.map((row) => row.sight as number);
  const placeOf = new Map(kept.map((index, i) => [index, i]));
  const covariance = covarianceOf(adjustment);
  const variance = adjustment.sd ** 2;
  const groups = groupsOf(survey, kept);
  const pure = pureScatter(survey, adjustment.network);
  const unfit = {
    squares: Math.max(0, adjustment.squares - pure.squares),
    dof: adjustment.dof - pure.dof,
  };
  const repeats = meanSquare(survey, pure.squares, pure.dof);

  /** What a suspicion takes off the squares, against what is left. */
  const isChance = (sights: readonly number[], explains: number): boolean => {
    const [only] = sights;
    const { setUp, point } = survey.sights[only as number] ?? {};
    const same = kept.filter(
      (i) => survey.sights[i]?.setUp === setUp && survey.sights[i]?.point === point,
    );
    let taken = explains;
    let left: ReturnType<typeof meanSquare>;
    if (sights.length === 1 && same.length > 1) {
      const reading = (i: number): number => survey.sights[i]?.reading ?? 0;
      const mean = same.reduce((sum, i) => sum + reading(i), 0) / same.length;
      const off = reading(only as number) - mean;
      taken = (off ** 2 * same.length) / (same.length - 1);
      left = meanSquare(survey, pure.squares - taken, pure.dof - 1);
    } else {
      const rest = { squares: Math.max(0, unfit.squares - explains), dof: unfit.dof - 1 };
      const isUneven =
        repeats !== null &&
        rest.dof >= 1 &&
        repeats.mean > 0 &&
        ratioTail(rest.squares / rest.dof / repeats.mean, rest.dof, repeats.dof) < FAMILY;
      left = isUneven
        ? { mean: rest.squares / rest.dof, dof: rest.dof }
        : meanSquare(survey, rest.squares + pure.squares, rest.dof + pure.dof);
    }
    if (!left) return true;
    if (left.mean === 0) return taken === 0;
    return ratioTail(taken / left.mean, 1, left.dof) * groups.length >= FAMILY;
  };

  const suspected = groups.flatMap((group) => {
    const places = group.sights.map((index) => placeOf.get(index) as number);
    const pull = places.reduce((sum, i) => sum + (adjustment.residuals[i] as number), 0) / variance;
    const sum = covariance.map((_, k) =>
      places.reduce((total, i) => total + (rows[i]?.over[k] as number), 0),
    );
    const carried = sum.reduce(
      (total, a, i) =>
        a === 0
          ? total
          : total +
            a * sum.reduce((t, b, j) => t + b * ((covariance[i] as number[])[j] as number), 0),
      0,
    );
    const shown = places.length / variance - carried / variance ** 2;
    if (shown < (LEAST_SHOWN * places.length) / variance) return [];
    const explains = (pull ** 2 / shown) * variance;
    if (isChance(group.sights, explains)) return [];
    return [{ ...group, offset: pull / shown, explains }];
  });
  const most = Math.max(0, ...suspected.map(({ explains }) => explains));
  if (most === 0) return null;
  return suspected
    .filter(({ explains }) => explains >= SAME * most)
    .map(({ kind, sights, offset }) => ({ kind, sights, offset }));
};
