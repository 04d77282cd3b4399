import type { LoweringScatter } from '../compare/repeatabilityLowering.ts';
import type { Part } from './combine.ts';
import { unknownTerm, type CornerTerm, type FourParts } from './cornerTerm.ts';
import { fromHalfWidth } from './standardUncertainty.ts';

/** Noise of the settled average: covariance of the four corners over the window, kg². */
export const readingTerm = (covariance: readonly number[], dof: number): CornerTerm => {
  if (covariance.length !== 16) throw new RangeError('a covariance of four corners has 16 entries');
  return {
    name: 'reading',
    kind: 'A',
    distribution: 't',
    effect: { sort: 'covariance', covariance, dof },
    source: 'scatter within the window, with its correlation',
  };
};

/**
 * Repeatability of lowering for the mean of `lowerings` of them, from a study of the unchanged car.
 * Where the study is there it holds the noise of the window too: then leave `readingTerm` out.
 */
export const repeatabilityTerm = (
  scatter: LoweringScatter | null,
  lowerings: number,
): CornerTerm => {
  if (!(lowerings >= 1)) throw new RangeError(`not a number of lowerings: ${lowerings}`);
  if (!scatter)
    return unknownTerm('repeatability', 'A', {
      need: 'lower the unchanged car a few times (study)',
      pattern: null,
    });
  return {
    name: 'repeatability',
    kind: 'A',
    distribution: 't',
    effect: {
      sort: 'covariance',
      covariance: scatter.covariance.map((entry) => entry / lowerings),
      dof: scatter.dof,
    },
    source: `study of repeated lowerings, mean of ${lowerings}`,
  };
};

/** How the car turns heights and friction into load: pattern n and kg at the left front per metre. */
export interface WarpResponse {
  /** (1, −1, −t_f/t_r, t_f/t_r): see adjust/warp.ts. */
  readonly pattern: FourParts;
  /** Load at the left front for one metre of twist, kg/m. */
  readonly perMetre: number;
}

const scaled = (pattern: FourParts, by: number): FourParts => [
  pattern[0] * by,
  pattern[1] * by,
  pattern[2] * by,
  pattern[3] * by,
];

/**
 * Friction of struts and scrub of tyres or plates: the band between readings lowered from above and
 * pushed up from below, kg at the left front. Whatever sticks moves load along the warp only, since the
 * equations of equilibrium leave nothing else (forces along the ground have no moment about it).
 * Rectangular within half the band.
 */
export const frictionTerm = (
  warp: Pick<WarpResponse, 'pattern'>,
  band: number | null,
): CornerTerm =>
  band === null
    ? unknownTerm('frictionAndScrub', 'B', {
        need: 'settle the car from above and from below and note the difference',
        pattern: warp.pattern,
      })
    : {
        name: 'frictionAndScrub',
        kind: 'B',
        distribution: 'rectangular',
        effect: {
          sort: 'together',
          pattern: warp.pattern,
          u: fromHalfWidth(Math.abs(band) / 2, 'rectangular'),
          dof: Infinity,
        },
        source: 'band between settled from above and from below',
      };

/** Half ranges that wind made of the readings, kg: of each side against the other, and of the total. */
export interface WindKnown {
  readonly side: number;
  readonly lift: number;
}

/**
 * Wind: side force moves load from one side to the other, shared between the axles as the loads are;
 * lift takes from all in proportion. Two terms; indoors give zeros. A gust swings, so arcsine.
 */
export const windTerms = (weights: FourParts, wind: WindKnown | null): readonly CornerTerm[] => {
  if (wind === null)
    return [
      unknownTerm('wind', 'B', {
        need: 'watch the total and the sides over a minute, or go indoors',
        pattern: null,
      }),
    ];
  const total = weights[0] + weights[1] + weights[2] + weights[3];
  if (!(total > 0)) throw new RangeError('no car on the pads');
  const front = (weights[0] + weights[1]) / total;
  const term = (pattern: FourParts, half: number, what: string): CornerTerm => ({
    name: 'wind',
    kind: 'B',
    distribution: 'arcsine',
    effect: {
      sort: 'together',
      pattern,
      u: fromHalfWidth(Math.abs(half), 'arcsine'),
      dof: Infinity,
    },
    source: `half range of ${what} in the wind`,
  });
  return [
    term([front, -front, 1 - front, front - 1], wind.side, 'one side against the other'),
    term(scaled(weights, 1 / total), wind.lift, 'the total'),
  ];
};

/**
 * Radius of the set-up wheels, standard uncertainty of each in metre: a wheel that is larger is a pad
 * that is higher, and four independent ones make a twist of u·√Σn².
 */
export const wheelRadiusTerm = (warp: WarpResponse, radius: Part | null): CornerTerm =>
  radius === null
    ? unknownTerm('wheelRadius', 'B', {
        need: 'measure the set-up wheels’ radii',
        pattern: warp.pattern,
      })
    : {
        name: 'wheelRadius',
        kind: 'B',
        distribution: 'normal',
        effect: {
          sort: 'together',
          pattern: scaled(warp.pattern, warp.perMetre * Math.hypot(...warp.pattern)),
          u: radius.u,
          dof: radius.dof,
        },
        source: 'radii as measured, each wheel by itself',
      };

/** Twist of the patch, standard uncertainty in metre (Σ n_j z_j of the survey). */
export const patchTwistTerm = (warp: WarpResponse, twist: Part | null): CornerTerm =>
  twist === null
    ? unknownTerm('patchTwist', 'B', { need: 'survey the patch', pattern: warp.pattern })
    : {
        name: 'patchTwist',
        kind: 'B',
        distribution: 'normal',
        effect: {
          sort: 'together',
          pattern: scaled(warp.pattern, warp.perMetre),
          u: twist.u,
          dof: twist.dof,
        },
        source: 'survey of the patch',
      };

/**
 * Gravity: relative standard uncertainty of g here over g where the spans were made. One place, one g:
 * exactly none. Computed from latitude and height each place has the local anomaly's, 1 to 6 parts in
 * 10⁵ (see calibration/gravity.ts); null where the place of the calibration is not known.
 */
export const gravityTerm = (weights: FourParts, relative: Part | null): CornerTerm =>
  relative === null
    ? unknownTerm('gravity', 'B', { need: 'the place where the spans were made', pattern: weights })
    : {
        name: 'gravity',
        kind: 'B',
        distribution: 'normal',
        effect: { sort: 'together', pattern: weights, u: relative.u, dof: relative.dof },
        source: 'gravity here against that of the calibrations',
      };
