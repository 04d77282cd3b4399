import { CORNERS } from '../corners.ts';
import type { Adjustment } from './adjust.ts';
import { covarianceOf } from './adjust.ts';
import type { LevelSurvey } from './levelSurvey.ts';
import { ratioTail } from './sightScatter.ts';

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
    ...grouped('point in one set-up', (index) => JSON.stringify([setUp(index), point(index)?.id])),
    ...CORNERS.flatMap((corner) =>
      [
        ...Map.groupBy(
          kept.filter((i) => point(i)?.pad === corner),
          setUp,
        ).values(),
      ].map((sights) => ({ kind: 'pad in one set-up' as const, sights })),
    ),
    ...grouped('point', (index) => point(index)?.id ?? ''),
  ];
  const seen = new Set<string>();
  return all.filter(({ sights }) => {
    const key = sights.join();
    return seen.has(key) ? false : seen.add(key);
  });
};

/**
 * Data snooping: the likeliest of the suspicions that some sights are off by one common amount, or null
 * where chance explains them all. Test of one added unknown against the rest, generalised from one
 * sight to a group (W. Baarda, A testing procedure for use in geodetic networks, 1968), as an exact F
 * test with the scatter taken from what is left (externally studentised), Bonferroni over all
 * suspicions. More than one answer: these explain the readings equally well.
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
  const stated = survey.sightScatter;
  const groups = groupsOf(survey, kept);

  const tested = groups.flatMap((group) => {
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
    return [{ ...group, offset: pull / shown, explains: (pull ** 2 / shown) * variance }];
  });
  const best = tested.toSorted((a, b) => b.explains - a.explains)[0];
  if (!best) return null;

  const left = Math.max(0, adjustment.squares - best.explains);
  const ownDof = adjustment.dof - 1;
  let mean: number;
  let dof: number;
  if (stated && stated.dof === Infinity) {
    mean = stated.sd ** 2;
    dof = Infinity;
  } else {
    dof = ownDof + (stated?.dof ?? 0);
    if (dof < 1) return null;
    mean = (left + (stated ? stated.dof * stated.sd ** 2 : 0)) / dof;
  }
  const isChance = mean > 0 && ratioTail(best.explains / mean, 1, dof) * groups.length >= FAMILY;
  if (isChance) return null;
  return tested
    .filter(({ explains }) => explains >= SAME * best.explains)
    .map(({ kind, sights, offset }) => ({ kind, sights, offset }));
};
