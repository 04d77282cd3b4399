import type { Finding, LeftOut } from '../../contract/calibrationRecord.ts';
import { inWords, massShown } from '../../format/quantity.ts';
import { listed } from '../../answers/answer.ts';
import { pointsInFit, type PlacedPoint } from '../placePoints.ts';

/** What can be said of the points before any curve is fitted. */

const kg = (mass: number): string => inWords(massShown('kg', mass, { decimals: 2 }));

const numbers = (points: readonly PlacedPoint[]): number[] =>
  points.map(({ taken }) => taken.number);

const named = (points: readonly PlacedPoint[]): string =>
  `${points.length === 1 ? 'Point' : 'Points'} ${listed(numbers(points).map(String))}`;

const isAre = (points: readonly PlacedPoint[]): string => (points.length === 1 ? 'is' : 'are');

const leftOutWords: Readonly<
  Record<
    Exclude<LeftOut, 'read again'>,
    (points: readonly PlacedPoint[]) => Pick<Finding, 'what' | 'why' | 'next'>
  >
> = {
  'other pad': (points) => ({
    what: `${named(points)} ${isAre(points)} of another pad: ${listed([...new Set(points.map(({ taken }) => taken.padSerial))])}.`,
    why: 'A calibration is of one pad; pads were exchanged between points.',
    next: 'Put the right pad back and take these points again; they are kept and left out.',
  }),
  saturated: (points) => ({
    what: `${named(points)} ${isAre(points)} at the end of the converter's range.`,
    why: 'Such a number is only a bound: more load would have read the same.',
    next: 'Use less load, or see whether the pad is pressed by something beside it; the points are kept and left out.',
  }),
  overloaded: (points) => ({
    what: `${named(points)} ${isAre(points)} above the rated load of the pad.`,
    why: 'Above its rating a pad bends differently, and may stay bent.',
    next: 'Use less load and take a zero to see that it came back; the points are kept and left out.',
  }),
  elsewhere: (points) => ({
    what: `At ${named(points).toLowerCase()} the load appeared on ${listed([...new Set(points.flatMap(({ taken }) => taken.risenElsewhere ?? []))])}.`,
    why: 'The masses stand on another pad, or two pads have exchanged places.',
    next: 'Put the masses on this pad, or calibrate the one they stand on; the points are kept and left out.',
  }),
};

/** Kinds of points left out, each as one finding; those read again are no fault. */
export const findLeftOut = (placed: readonly PlacedPoint[]): readonly Finding[] =>
  (Object.keys(leftOutWords) as (keyof typeof leftOutWords)[]).flatMap((code) => {
    const points = placed.filter(({ leftOut }) => leftOut === code);
    return points.length === 0
      ? []
      : [{ code, weight: 'warns', points: numbers(points), ...leftOutWords[code](points) }];
  });

/** A step of load that should show: share of the top load; and what counts as none: share of the step. */
const STEP = 0.01;
const NO_STEP = 0.02;

/** Counts per newton by the middle of all steps of load: one bad point does not move it. */
const middleSlope = (points: readonly PlacedPoint[]): number => {
  const slopes = points.flatMap((a, i) =>
    points
      .slice(i + 1)
      .filter((b) => b.force !== a.force)
      .map((b) => (b.taken.counts.value - a.taken.counts.value) / (b.force - a.force)),
  );
  const sorted = slopes.toSorted((a, b) => a - b);
  return sorted[sorted.length >> 1] ?? 0;
};

/** Points at which the load changed and the reading did not. */
export const findStuck = (
  placed: readonly PlacedPoint[],
  about: { readonly ratedSlope: number | null; readonly gravity: number },
): Finding | null => {
  const points = pointsInFit(placed);
  const top = Math.max(0, ...points.map(({ force }) => force));
  const slope = about.ratedSlope ?? middleSlope(points);
  const stuck = points.filter((point, index) => {
    const before = points[index - 1];
    if (!before) return false;
    const step = Math.abs(point.force - before.force);
    const moved = Math.abs(point.taken.counts.value - before.taken.counts.value);
    return step > STEP * top && moved <= NO_STEP * Math.abs(slope) * step;
  });
  const [first] = stuck;
  if (!first) return null;
  const before = points[points.indexOf(first) - 1] as PlacedPoint;
  const step = (first.force - before.force) / about.gravity;
  return {
    code: 'stuck',
    weight: 'refuses',
    what: `${named(stuck)} ${stuck.length === 1 ? 'reads' : 'read'} what the point before read: at point ${first.taken.number} ${kg(Math.abs(step))} ${step > 0 ? 'more' : 'less'} stood there.`,
    why: 'The channel is stuck, or the load did not come onto this pad: it may stand on another, or two pads have exchanged places.',
    next: 'Press the pad and see its number move; then take these points again. Undo those that are wrong.',
    points: numbers(stuck),
  };
};

/** Whether zeros are there, and whether the order of the masses was an unusual one. */
export const findInOrder = (placed: readonly PlacedPoint[]): readonly Finding[] => {
  const points = pointsInFit(placed);
  const found: Finding[] = [];
  if (points.length > 0 && !points[0]?.isZero)
    found.push({
      code: 'no zero',
      weight: 'warns',
      what: 'No zero was read before the first load.',
      why: 'The zero then comes from the loads alone, and a return to it cannot be judged.',
      next: 'Begin with nothing on the pad, and end with it.',
      points: [],
    });
  const turned = points.filter((point, index) => {
    const before = points[index - 1];
    return (
      before && !before.isZero && before.side === 'down' && point.side === 'up' && !point.isZero
    );
  });
  if (turned.length > 0)
    found.push({
      code: 'out of order',
      weight: 'notes',
      what: `Masses were not placed in one rising and one falling row: see ${named(turned).toLowerCase()}.`,
      why: 'Each point counts as rising or falling by the load before it; hysteresis is then a part of what is seen.',
      next: 'Nothing needs doing. For a clear hysteresis place them up, then down.',
      points: numbers(turned),
    });
  return found;
};
