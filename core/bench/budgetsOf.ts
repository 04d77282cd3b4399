import type { BudgetOf } from '../contract/explained.ts';
import type { Capture } from '../contract/records.ts';
import { CORNERS, inOrder } from '../corners.ts';
import { cornerBudgets, type ResultBudget } from '../uncertainty/cornerBudgets.ts';
import type { FourParts } from '../uncertainty/cornerTerm.ts';
import { knownTerms } from './knownTerms.ts';
import { newestScatter } from './studyOfLowerings.ts';
import type { BenchWorkings } from './workings.ts';

/** Results by the words of the trade. */
export const RESULT_NAMES: Readonly<Record<BudgetOf, string>> = {
  LF: 'Left front',
  RF: 'Right front',
  LR: 'Left rear',
  RR: 'Right rear',
  total: 'Total',
  front: 'Front share',
  left: 'Left share',
  cross: 'Cross share',
};

/** The uncertainty budgets of a capture, from everything the bench knows. */
export const budgetsOf = (bench: BenchWorkings, capture: Capture): readonly ResultBudget[] => {
  const { memory } = bench;
  const terms = knownTerms(capture, {
    book: bench.book,
    calibrations: bench.calibrations,
    car: memory.cars.find(({ id }) => id === capture.carId) ?? memory.car,
    zerosOf: bench.zerosOf,
    ratingOf: bench.ratingOf,
    shifts: memory.captures.flatMap(({ zeroShift, corners }) =>
      CORNERS.flatMap((corner) => {
        const shift = zeroShift?.[corner] ?? null;
        return shift === null ? [] : [{ padSerial: corners[corner].padSerial, shift }];
      }),
    ),
    scatter: newestScatter(bench.book, (id) => bench.openCapture(id)?.capture ?? null),
    isGravityMeasured: memory.venues.some(
      ({ id, measuredGravity }) => id === capture.venueId && measuredGravity !== null,
    ),
  });
  const weights = inOrder(capture.corners).map(({ mass }) => mass.value);
  return cornerBudgets(terms, weights as unknown as FourParts, capture.balance.cross);
};
