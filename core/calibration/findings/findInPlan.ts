import type { Finding } from '../../contract/calibrationRecord.ts';
import { fixed, HARD_SPACE } from '../../format/number.ts';
import { inWords, massShown } from '../../format/quantity.ts';
import { differentLoads, pointsInFit, type PlacedPoint } from '../placePoints.ts';

/** Fewer loads than this say nothing of what lies between them. */
const FEWEST_LOADS = 3;
/** Share of the rated load that the top load should reach. Common practice, no source. */
const HIGH_ENOUGH = 0.5;

const COUNTED = ['No load was', 'One load was', 'Two loads were'] as const;

const kg = (mass: number): string => inWords(massShown('kg', mass, { decimals: 1 }));

const plain = (
  code: Finding['code'],
  weight: Finding['weight'],
  words: Pick<Finding, 'what' | 'why' | 'next'>,
): Finding => ({ code, weight, ...words, points: [] });

/** What the plan of the calibration leaves open: loads, repeats, directions, the masses. */
export const findInPlan = (
  placed: readonly PlacedPoint[],
  about: {
    readonly gravity: number;
    /** Rated load, kg; null where the pad does not say. */
    readonly ratedLoad: number | null;
    readonly uApplied: number | null;
  },
): readonly Finding[] => {
  const points = pointsInFit(placed);
  const loaded = points.filter(({ isZero }) => !isZero);
  const loads = differentLoads(points);
  const found: Finding[] = [];
  if (loads < FEWEST_LOADS)
    found.push(
      plain('few loads', 'refuses', {
        what: `${COUNTED[loads] ?? ''} placed; three different ones are the fewest.`,
        why: 'Through so few loads a curve always passes: how straight the pad is cannot be seen.',
        next: 'Add loads between none and the top.',
      }),
    );
  const top = Math.max(0, ...points.map(({ force }) => force)) / about.gravity;
  if (about.ratedLoad !== null && top > 0 && top < HIGH_ENOUGH * about.ratedLoad)
    found.push(
      plain('low top', 'warns', {
        what: `The top load of ${kg(top)} is ${fixed((100 * top) / about.ratedLoad, 0)}${HARD_SPACE}% of the rated ${kg(about.ratedLoad)}.`,
        why: 'Above the top load the curve is only drawn on.',
        next: 'Add masses, or calibrate against another pad in series.',
      }),
    );
  const cells = new Set(loaded.map(({ load, side }) => `${load} ${side}`));
  if (loads >= FEWEST_LOADS && cells.size === loaded.length)
    found.push(
      plain('no repeats', 'notes', {
        what: 'No load was placed twice from the same side.',
        why: 'Repeatability was not seen, and the degree of the curve rests on weaker evidence.',
        next: 'Go through the loads once more.',
      }),
    );
  if (loads >= FEWEST_LOADS && !loaded.some(({ side }) => side === 'down'))
    found.push(
      plain('one way', 'notes', {
        what: 'Loads were only added, never taken off.',
        why: 'Hysteresis was not seen.',
        next: 'Take the masses off again one by one, reading each.',
      }),
    );
  if (about.uApplied === null && loaded.length > 0)
    found.push(
      plain('masses unknown', 'warns', {
        what: 'How well the applied loads are known is not stated.',
        why: 'No uncertainty can be given to what the pad reads, however well it repeats.',
        next: 'Enter the class or the certificate of the masses. A class needs one of its own nominal values, such as 20 kg.',
      }),
    );
  return found;
};
