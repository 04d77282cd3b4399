import { perCorner, type Corner, type PerCorner } from '../corners.ts';
import type { Car } from '../sheet/car.ts';
import { symmetricEigen } from '../statistics/symmetricEigen.ts';
import type { LevelSurvey, SurveyPoint } from './levelSurvey.ts';

/** Points nearer together than this do not show a slope: common practice, no source. */
const LEAST_SPREAD = 5e-3;

/** One equation: a sight, or what is known beforehand of an unknown error. */
export interface NetworkRow {
  readonly over: readonly number[];
  readonly right: number;
  /** The place of the sight in the survey; null for what is known beforehand. */
  readonly sight: number | null;
  /** Standard uncertainty of what is known beforehand; for sights it comes from their scatter. */
  readonly u: number | null;
}

/** Which unknowns carry a pad. */
export interface PadUnknowns {
  readonly height: number;
  /** Slopes dz/dx and dz/dy; null where the points show none, or along one line only. */
  readonly tilt: { readonly x: number; readonly y: number } | null;
  /** How far the place of the height is from where the wheel stands, metre. */
  readonly beside: number;
}

/** The linear equations of a survey: rows·unknowns = right. */
export interface Network {
  readonly rows: readonly NetworkRow[];
  readonly unknowns: number;
  readonly pads: PerCorner<PadUnknowns | null>;
  /** The unknown of each mark that was sighted. */
  readonly marks: ReadonlyMap<string, number>;
  /** The unknown of the cone error; null where there is none. */
  readonly cone: number | null;
}

/** Where the centre of a pad lies, from below the middle of the front axle. */
export const padCentre = (car: Car, corner: Corner): { readonly x: number; readonly y: number } => {
  const front = corner === 'LF' || corner === 'RF';
  const half = (front ? car.trackFront : car.trackRear) / 2;
  return { x: front ? 0 : -car.wheelbase, y: corner === 'LF' || corner === 'LR' ? half : -half };
};

/** A point's place on the ground, from below the middle of the front axle. */
export const pointPlace = (
  car: Car,
  point: SurveyPoint,
): { readonly x: number; readonly y: number } => {
  const centre = point.pad === null ? { x: 0, y: 0 } : padCentre(car, point.pad);
  return { x: centre.x + point.x, y: centre.y + point.y };
};

/** How a pad's surface is carried: as many unknowns as its points can show, at most a plane. */
const surface = (
  points: readonly SurveyPoint[],
): {
  readonly slopes: 'none' | 'line' | 'plane';
  readonly along: readonly [number, number];
  readonly beside: number;
} => {
  const mean = (of: (point: SurveyPoint) => number): number =>
    points.reduce((sum, point) => sum + of(point), 0) / points.length;
  const [mx, my] = [mean(({ x }) => x), mean(({ y }) => y)];
  const spread = symmetricEigen([
    [mean(({ x }) => (x - mx) ** 2), mean(({ x, y }) => (x - mx) * (y - my))],
    [mean(({ x, y }) => (x - mx) * (y - my)), mean(({ y }) => (y - my) ** 2)],
  ]);
  const [first, second] = spread.values as readonly [number, number];
  const main = first >= second ? 0 : 1;
  const [ax, ay] = spread.vectors[main] as unknown as readonly [number, number];
  if (Math.sqrt(Math.max(first, second)) < LEAST_SPREAD)
    return { slopes: 'none', along: [1, 0], beside: Math.hypot(mx, my) };
  if (Math.sqrt(Math.min(first, second)) < LEAST_SPREAD)
    // The height is taken where the line passes the wheel's place.
    return { slopes: 'line', along: [ax, ay], beside: Math.abs(mx * ay - my * ax) };
  return { slopes: 'plane', along: [1, 0], beside: 0 };
};

/**
 * Writes the equations of the sights in `kept`. Unknowns: the height of each instrument but the
 * first, which is the datum; height and slopes of each pad, a rigid plane; each mark; cone, tilts and
 * the rounding of each point, which repeats share, as far as the instrument has them. A sight at a
 * staff reads r = H − h, one of a height r = h − H; errors of the instrument add to either.
 */
export const buildNetwork = (car: Car, survey: LevelSurvey, kept: readonly number[]): Network => {
  const { instrument } = survey;
  const pointById = new Map(survey.points.map((point) => [point.id, point]));
  const setUpById = new Map(survey.setUps.map((setUp) => [setUp.id, setUp]));
  const sights = kept.flatMap((index) => {
    const sight = survey.sights[index];
    const point = sight && pointById.get(sight.point);
    const setUp = sight && setUpById.get(sight.setUp);
    return point && setUp && sight.reading !== null
      ? [{ index, point, setUp, reading: sight.reading }]
      : [];
  });

  let unknowns = 0;
  const next = (): number => {
    unknowns += 1;
    return unknowns - 1;
  };
  const seenSetUps = survey.setUps.filter((each) => sights.some(({ setUp }) => setUp === each));
  const heightOf = new Map(seenSetUps.map((each, i) => [each.id, i === 0 ? null : next()]));
  const surfaces = new Map<Corner, ReturnType<typeof surface>>();
  const pads = perCorner((corner): (PadUnknowns & { readonly line: number | null }) | null => {
    const own = survey.points.filter(
      (each) => each.pad === corner && sights.some(({ point }) => point === each),
    );
    if (own.length === 0) return null;
    const shape = surface(own);
    surfaces.set(corner, shape);
    return {
      height: next(),
      tilt: shape.slopes === 'plane' ? { x: next(), y: next() } : null,
      line: shape.slopes === 'line' ? next() : null,
      beside: shape.beside,
    };
  });
  const marks = new Map(
    survey.points
      .filter((each) => each.pad === null && sights.some(({ point }) => point === each))
      .map((each) => [each.id, next()]),
  );
  const placed = seenSetUps.length > 0 && seenSetUps.every(({ place }) => place !== null);
  const cone = placed && instrument.cone !== null && instrument.cone !== 0 ? next() : null;
  const tilts = new Map(
    instrument.tilt ? seenSetUps.map((each) => [each.id, { x: next(), y: next() }]) : [],
  );
  const groups = new Map<string, number>();
  const rounding = (setUp: string, point: string): number => {
    const key = JSON.stringify([setUp, point]);
    const known = groups.get(key) ?? next();
    groups.set(key, known);
    return known;
  };

  const up = instrument.reads === 'staff' ? -1 : 1;
  const entries = sights.map(({ point, setUp }) => {
    const over: [number, number][] = [];
    const height = heightOf.get(setUp.id) ?? null;
    if (height !== null) over.push([height, -up]);
    if (point.pad === null) over.push([marks.get(point.id) as number, up]);
    else {
      const pad = pads[point.pad];
      const shape = surfaces.get(point.pad);
      if (pad) {
        over.push([pad.height, up]);
        if (pad.tilt) over.push([pad.tilt.x, up * point.x], [pad.tilt.y, up * point.y]);
        if (pad.line !== null && shape)
          over.push([pad.line, up * (point.x * shape.along[0] + point.y * shape.along[1])]);
      }
    }
    const place = pointPlace(car, point);
    if (cone !== null && setUp.place)
      over.push([cone, Math.hypot(place.x - setUp.place.x, place.y - setUp.place.y)]);
    const tilt = tilts.get(setUp.id);
    if (tilt) over.push([tilt.x, place.x], [tilt.y, place.y]);
    if (instrument.step > 0) over.push([rounding(setUp.id, point.id), 1]);
    return over;
  });
  const dense = (sparse: readonly [number, number][]): readonly number[] => {
    const row = new Array<number>(unknowns).fill(0);
    for (const [column, value] of sparse) row[column] = (row[column] as number) + value;
    return row;
  };
  const beforehand = (column: number, u: number): NetworkRow => ({
    over: dense([[column, 1]]),
    right: 0,
    sight: null,
    u,
  });
  return {
    rows: [
      ...sights.map(({ index, reading }, i) => ({
        over: dense(entries[i] as [number, number][]),
        right: reading,
        sight: index,
        u: null,
      })),
      ...(cone !== null && typeof instrument.cone === 'number'
        ? [beforehand(cone, instrument.cone)]
        : []),
      ...[...tilts.values()].flatMap(({ x, y }) => [
        beforehand(x, instrument.tilt as number),
        beforehand(y, instrument.tilt as number),
      ]),
      // A rounded reading is off by anything up to half a step: step/√12 (JCGM 100:2008, F.2.2.1).
      ...[...groups.values()].map((column) => beforehand(column, instrument.step / Math.sqrt(12))),
    ],
    unknowns,
    pads,
    marks,
    cone,
  };
};
