import type { PatchSurvey } from '../contract/patchSurvey.ts';
import { CORNERS, perCorner, type PerCorner } from '../corners.ts';
import type { Car } from '../sheet/car.ts';
import type { LevelledPatch } from './levelPatch.ts';
import type { LevelSurvey, SurveyPoint } from './levelSurvey.ts';
import type { Foot, ScrewQuestion } from './screws.ts';

/** How a survey begins: points on every pad, one set-up near the middle, nothing read yet. */

/** From a pad's centre to the points near its corners, and to its feet, metre; common practice, no source. */
const ARM = 0.14;
const FOOT_ARM = 0.18;

const PLACES = [
  [0, 0],
  [ARM, ARM],
  [ARM, -ARM],
  [-ARM, ARM],
  [-ARM, -ARM],
] as const;

export const POINTS_PER_PAD = [1, 3, 5] as const;
export type PointsPerPad = (typeof POINTS_PER_PAD)[number];

/** Three points are the front two corners and the middle of the back. */
const placesOf = (count: PointsPerPad): readonly (readonly [number, number])[] =>
  count === 3
    ? [
        [ARM, ARM],
        [ARM, -ARM],
        [-ARM, 0],
      ]
    : PLACES.slice(0, count);

const pointsOf = (count: PointsPerPad): readonly SurveyPoint[] =>
  CORNERS.flatMap((pad) =>
    placesOf(count).map(([x, y], index) => ({ id: `${pad} ${index + 1}`, pad, x, y })),
  );

/** An empty survey of so many points a pad and sights a point, read in the light of a laser. */
export const beginSurvey = (
  car: Car,
  { points, sights }: { readonly points: PointsPerPad; readonly sights: number },
): LevelSurvey => {
  const all = pointsOf(points);
  return {
    points: all,
    setUps: [{ id: '1', place: { x: -car.wheelbase / 2, y: 0 } }],
    sights: all.flatMap(({ id }) =>
      Array.from({ length: sights }, () => ({ setUp: '1', point: id, reading: null })),
    ),
    // A line laser's cone and tilt: 0.1 mm and 0.05 mm per metre; common practice, no source.
    instrument: { reads: 'staff', staffLength: null, step: 0.0001, cone: 1e-4, tilt: 5e-5 },
    sightScatter: null,
  };
};

/** Feet at the corners of a pad; three stand at the front corners and the middle of the back. */
export const feetOf = (
  count: 3 | 4,
  { pitch, travel }: { readonly pitch: number; readonly travel: number },
): readonly Foot[] =>
  (count === 4
    ? [
        ['front left', FOOT_ARM, FOOT_ARM],
        ['front right', FOOT_ARM, -FOOT_ARM],
        ['rear left', -FOOT_ARM, FOOT_ARM],
        ['rear right', -FOOT_ARM, -FOOT_ARM],
      ]
    : [
        ['front left', FOOT_ARM, FOOT_ARM],
        ['front right', FOOT_ARM, -FOOT_ARM],
        ['rear', -FOOT_ARM, 0],
      ]
  ).map(([name, x, y]) => ({
    name: String(name),
    x: Number(x),
    y: Number(y),
    pitch,
    up: travel,
    down: travel,
  }));

/** Where the pads' centres stand: below the wheels. */
export const padPlaces = (car: Car): PerCorner<{ readonly x: number; readonly y: number }> => ({
  LF: { x: 0, y: car.trackFront / 2 },
  RF: { x: 0, y: -car.trackFront / 2 },
  LR: { x: -car.wheelbase, y: car.trackRear / 2 },
  RR: { x: -car.wheelbase, y: -car.trackRear / 2 },
});

/** Level within 1 mm over the track (it costs less than a quarter of a kilogram). */
const LEVEL_WITHIN = 0.001;

/** What is to be planned for the screws of a surveyed patch: its pads on the feet they were given. */
export const screwQuestion = (
  car: Car,
  patch: LevelledPatch,
  { feet, onlyUpward, step, packers }: PatchSurvey,
): ScrewQuestion => ({
  pads: perCorner((corner) => {
    const { height, tilt } = patch.pads[corner];
    return {
      feet,
      height: height.value,
      forward: tilt?.forward.value ?? 0,
      left: tilt?.left.value ?? 0,
    };
  }),
  places: padPlaces(car),
  mostSlope: LEVEL_WITHIN / Math.max(car.trackFront, car.trackRear),
  onlyUpward,
  step,
  packers,
});
