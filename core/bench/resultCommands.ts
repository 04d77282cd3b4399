import { nominalCalibration, type Calibration } from '../calibration/calibration.ts';
import { calibrationOf } from '../calibration/useRecord.ts';
import type { Capture } from '../contract/records.ts';
import { CORNERS, perCorner, type Corner, type PerCorner } from '../corners.ts';
import { budgetShown } from '../uncertainty/cornerBudgets.ts';
import { refuse, stored, type Handlers } from './answering.ts';
import { budgetsOf } from './budgetsOf.ts';
import { measureFour } from './measureFour.ts';
import { recompute } from './recompute.ts';
import { studyOfLowerings } from './studyOfLowerings.ts';
import { takeCapture } from './takeCapture.ts';
import type { BenchWorkings } from './workings.ts';

/** What the commands about a result do: its budget, itself under another calibration, studies of it. */

const NOT_THERE = refuse('This capture is not in the database.', 'Choose one from the list.');

const captureOf = (bench: BenchWorkings, id: string): Capture | null =>
  bench.openCapture(id)?.capture ?? null;

/** What stands on the pads now, as a capture that is not kept; null while it cannot be measured. */
const captureNow = (bench: BenchWorkings): Capture | null => {
  const pads = bench.allUnder();
  const { window } = bench.stillness();
  const outcome = pads && window ? measureFour(pads, window) : null;
  if (!pads || !outcome?.ok) return null;
  return takeCapture(outcome.four, pads, {
    memory: bench.memory,
    gravity: bench.gravity(),
    isEarly: false,
    labels: { id: 'now', takenAt: bench.wallClock(), phase: 'check', note: '' },
  });
};

export const RESULT_HANDLERS: Handlers<'recompute' | 'explain' | 'add lowering' | 'open study'> = {
  recompute: (bench, { captureId, calibrations }) => {
    const found = bench.openCapture(captureId);
    if (!found) return NOT_THERE;
    const { capture, window } = found;
    const wrong = CORNERS.find((corner) => !usedOf(corner));
    function usedOf(corner: Corner): Calibration | null {
      const { padSerial } = capture.corners[corner];
      const id = calibrations[corner];
      const rating = bench.ratingOf(padSerial);
      if (id === null) return rating ? nominalCalibration(rating) : null;
      const record = bench.calibrations.find(padSerial, id);
      return record ? calibrationOf(record) : null;
    }
    if (wrong)
      return refuse(
        `${capture.corners[wrong].padSerial} cannot be computed with this calibration.`,
        'Choose another, or let the pad be heard once so that its rating is known.',
        wrong,
      );
    const zeros = perCorner((corner) => {
      const { padSerial, zeroId, zeroCounts } = capture.corners[corner];
      const taken = bench.zerosOf(padSerial).find(({ id }) => id === zeroId);
      return { counts: zeroCounts ?? 0, u: taken?.u ?? 0, dof: taken?.dof ?? Infinity };
    });
    const car = bench.memory.cars.find(({ id }) => id === capture.carId) ?? bench.memory.car;
    const made = recompute(capture, window, {
      calibrations: perCorner((corner) => usedOf(corner)) as PerCorner<Calibration>,
      zeros,
      car,
    });
    return made
      ? { ok: true, result: { is: 'recomputed', ...made } }
      : refuse('Its window is too short to be computed again.', 'Take another capture.');
  },

  explain: (bench, { captureId }) => {
    const capture = captureId === null ? captureNow(bench) : captureOf(bench, captureId);
    if (!capture)
      return captureId === null
        ? refuse('The car is not still on the pads.', 'Wait until it has settled.')
        : NOT_THERE;
    return {
      ok: true,
      result: { is: 'explained', budgets: budgetsOf(bench, capture).map(budgetShown) },
    };
  },

  'add lowering': (bench, { studyId, captureId, person, laying }) => {
    if (!captureOf(bench, captureId)) return NOT_THERE;
    if (bench.book.of('lowering', studyId).some((one) => one.captureId === captureId))
      return refuse('This capture is in the study already.', 'Raise, lower and capture again.');
    return stored(
      bench.book.keep({ kind: 'lowering', subject: studyId, captureId, person, laying }),
    );
  },

  'open study': (bench, { studyId }) => ({
    ok: true,
    result: {
      is: 'study opened',
      study: studyOfLowerings(studyId, {
        book: bench.book,
        captureOf: (id) => captureOf(bench, id),
        car: bench.memory.car,
        cross: bench.memory.settings.cross,
      }),
    },
  }),
};
