import { perCorner } from '../corners.ts';
import type { BallastCounts, BallastProblem } from './ballastProblem.ts';
import { withChanges, type BallastOutcome } from './ballastOutcome.ts';
import type { PerCorner } from '../corners.ts';

/** A step of fitting a plan and weighing again, with what the pads should then read. */
export interface WeighStep {
  readonly text: string;
  /** Place and plates to fit at this step; null for the steps that only weigh. */
  readonly place: string | null;
  /** Total and corner weights to expect, kg. */
  readonly total: number;
  readonly loads: PerCorner<number>;
}

const platesOf = (problem: BallastProblem, counts: readonly number[]): string =>
  problem.plates
    .flatMap(({ name }, size) => {
      const count = counts[size] ?? 0;
      return count > 0 ? [`${count} × ${name}`] : [];
    })
    .join(', ');

/**
 * The order in which a plan is fitted and weighed again: the heaviest place first, so that a wrong plate
 * shows while little else has changed; then what a scale knows best, total, shares, and last the cross,
 * which plates do not set and perches do.
 */
export const weighAgain = (
  problem: BallastProblem,
  counts: BallastCounts,
  outcome: BallastOutcome,
): readonly WeighStep[] => {
  const places = problem.places
    .map((place, at) => ({
      place,
      counts: counts[at] ?? [],
      mass: problem.plates.reduce(
        (sum, { mass }, size) => sum + mass * (counts[at]?.[size] ?? 0),
        0,
      ),
    }))
    .filter(({ mass }) => mass > 0)
    .toSorted((a, b) => b.mass - a.mass);
  let at = problem;
  const total = (): number => Object.values(at.loads).reduce((sum, load) => sum + load, 0);
  const fitted = places.map(({ place, counts: own, mass }): WeighStep => {
    at = withChanges(at, [{ name: place.name, x: place.x, y: place.y, mass }]);
    const fixing = place.fixing.trim();
    return {
      text: `${place.name}: ${platesOf(problem, own)}.${fixing === '' ? '' : ` Fix: ${fixing}.`}`,
      place: place.id,
      total: total(),
      loads: perCorner((corner) => at.loads[corner]),
    };
  });
  const weigh = (text: string): WeighStep => ({
    text,
    place: null,
    total: outcome.total,
    loads: outcome.loads,
  });
  return [
    ...fitted,
    weigh(
      'In the same state as before: lower, let it settle, take a capture. Compare the total first.',
    ),
    weigh('Then front and left share: a plate in the wrong place shows here.'),
    weigh(
      'Then the cross: it was only predicted. Correct it at the perches with the bars off, and weigh again.',
    ),
  ];
};
