import { CORNERS, perCorner, type Corner, type PerCorner } from '../../../core/corners.ts';
import type {
  Instrument,
  LevelSurvey,
  SetUp,
  Sight,
  SurveyPoint,
} from '../../../core/flatPatch/levelSurvey.ts';
import { pointPlace } from '../../../core/flatPatch/network.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import type { Noise } from '../signal/noise.ts';

/** A pad as it truly stands: height at its middle and slopes. */
export interface TruePad {
  readonly height: number;
  readonly forward: number;
  readonly left: number;
}

export const LEVEL_PADS: PerCorner<TruePad> = perCorner(() => ({
  height: 0,
  forward: 0,
  left: 0,
}));

const ARM = 0.14;
const FIVE = [
  [0, 0],
  [ARM, ARM],
  [ARM, -ARM],
  [-ARM, ARM],
  [-ARM, -ARM],
] as const;

/** One to five points on every pad: the middle first, then the corners of the pad. */
export const padPoints = (count: number): readonly SurveyPoint[] =>
  CORNERS.flatMap((pad) =>
    FIVE.slice(0, count).map(([x, y], i) => ({ id: `${pad}${i + 1}`, pad, x, y })),
  );

export const LASER: Instrument = {
  reads: 'staff',
  staffLength: 2.4,
  step: 0,
  cone: 0,
  tilt: 0,
};

export const MIDDLE: SetUp = { id: '1', place: { x: -1.35, y: 0 } };

/** True height of a point of a pad. */
export const trueHeight = (pads: PerCorner<TruePad>, point: SurveyPoint): number => {
  const pad = pads[point.pad as Corner];
  return pad.height + pad.forward * point.x + pad.left * point.y;
};

/** Reads every point of every set-up `repeats` times with the instrument's own errors. */
export const readSurvey = (
  pads: PerCorner<TruePad>,
  how: {
    readonly points: readonly SurveyPoint[];
    readonly repeats: number;
    readonly noise: Noise;
    readonly sd: number;
    readonly setUps?: readonly SetUp[];
    /** Points seen from a set-up; all of them where not given. */
    readonly seen?: (setUp: string, point: SurveyPoint) => boolean;
    readonly instrument?: Instrument;
    readonly cone?: number;
    readonly tilt?: () => number;
    readonly marks?: Readonly<Record<string, number>>;
    readonly sightScatter?: LevelSurvey['sightScatter'];
  },
): LevelSurvey => {
  const instrument = how.instrument ?? LASER;
  const setUps = how.setUps ?? [MIDDLE];
  const sights = setUps.flatMap((setUp, k): Sight[] => {
    const light = 1.2 + 0.1 * k;
    const [tx, ty] = [how.tilt?.() ?? 0, how.tilt?.() ?? 0];
    return how.points
      .filter((point) => how.seen?.(setUp.id, point) ?? true)
      .flatMap((point) => {
        const place = pointPlace(EXAMPLE_CAR, point);
        const distance = setUp.place
          ? Math.hypot(place.x - setUp.place.x, place.y - setUp.place.y)
          : 0;
        const height = point.pad === null ? (how.marks?.[point.id] ?? 0) : trueHeight(pads, point);
        const wrong = (how.cone ?? 0) * distance + tx * place.x + ty * place.y;
        return Array.from({ length: how.repeats }, () => {
          const exact = (instrument.reads === 'staff' ? light - height : height - light) + wrong;
          const read = exact + how.sd * how.noise.normal();
          const reading =
            instrument.step > 0 ? Math.round(read / instrument.step) * instrument.step : read;
          return { setUp: setUp.id, point: point.id, reading };
        });
      });
  });
  return {
    points: how.points,
    setUps,
    sights,
    instrument,
    sightScatter: how.sightScatter ?? null,
  };
};
