import { listed } from '../answers/answer.ts';
import type { Car } from '../sheet/car.ts';
import { adjust } from './networkAdjustment.ts';
import type { LevelSurvey, SurveyRefusal } from './levelSurvey.ts';
import { buildNetwork } from './network.ts';
import { readingCauses } from './readingCause.ts';

/** A set-up made right must take the misfit down to an eighth to be believed. Common practice, no source. */
const LESS_MISFIT = 8;
/** Two explanations whose misfits differ by less than this are both named. No source. */
const ALIKE = 2;
/** Sights that a set-up needs to show the pattern of a wrong unit. */
const LEAST_SIGHTS = 3;

/** Misfit of the sights over the spread of the readings in their set-ups: no unit, so units compare. */
const misfit = (car: Car, survey: LevelSurvey, kept: readonly number[]): number | null => {
  const network = buildNetwork(car, survey, kept);
  const fit = adjust(network, 1e-4);
  if (!fit) return null;
  const rows = network.rows.filter(({ sight }) => sight !== null);
  let spread = 0;
  for (const own of Map.groupBy(
    rows,
    (row) => survey.sights[row.sight as number]?.setUp,
  ).values()) {
    const mean = own.reduce((sum, { right }) => sum + right, 0) / own.length;
    spread += own.reduce((sum, { right }) => sum + (right - mean) ** 2, 0);
  }
  return spread > 0 ? Math.sqrt(fit.squares / spread) : null;
};

/**
 * Looks for a set-up that was read in another unit or with the staff upside down throughout: its own
 * readings agree, and only the other set-ups show it. Of two set-ups either may be the wrong one, and
 * both are named. Null where no set-up made right fits far better.
 */
export const findWrongSetUp = (
  car: Car,
  survey: LevelSurvey,
  kept: readonly number[],
): Omit<SurveyRefusal, 'findings'> | null => {
  const asTyped = survey.setUps.length < 2 ? null : misfit(car, survey, kept);
  if (asTyped === null) return null;
  // Upside down needs no length here: the height of the instrument takes it up.
  const causes = readingCauses({
    ...survey.instrument,
    staffLength: survey.instrument.staffLength ?? 0,
  });
  const tried = survey.setUps.flatMap((setUp) => {
    const own = kept.filter((index) => survey.sights[index]?.setUp === setUp.id);
    if (own.length < LEAST_SIGHTS) return [];
    return causes.flatMap((cause) => {
      const sights = survey.sights.map((sight) =>
        sight.setUp === setUp.id && sight.reading !== null
          ? { ...sight, reading: cause.right(sight.reading) }
          : sight,
      );
      const left = misfit(car, { ...survey, sights }, kept);
      return left === null ? [] : [{ setUp, cause, left }];
    });
  });
  const sorted = tried.toSorted((a, b) => a.left - b.left);
  const best = sorted[0];
  if (!best || best.left * LESS_MISFIT > asTyped) return null;
  const named = sorted.filter(
    ({ left, setUp }, i) =>
      left <= ALIKE * best.left && sorted.findIndex((each) => each.setUp === setUp) === i,
  );
  return {
    ok: false,
    code: best.cause.code,
    why: `Set-ups do not fit each other as typed, but they do with ${named.map(({ setUp, cause }) => `set-up ${setUp.id} taken as ${cause.words}`).join(', or with ')}.`,
    next: `Correct the readings of set-up ${listed(named.map(({ setUp }) => setUp.id)).replace(' and ', ' or ')}, or read it again; the numbers stay as they were typed.`,
  };
};
