import { listed } from '../answers/answer.ts';
import { fixed, HARD_SPACE } from '../format/number.ts';
import type { LevelSurvey, SurveyFinding, SurveyRefusal } from './levelSurvey.ts';
import { causeOf, type ReadingCause } from './readingCause.ts';

/**
 * From the middle reading of a set-up, 0.15 m is 3° over a wheelbase: no patch slopes so much, nor does
 * a pad stand on so much. Common practice, no source; marks beside may lie further off.
 */
const FURTHEST = 0.15;
const FURTHEST_MARK = 1;
/** More than one in three wrong, and it is not known which ones are right. */
const MOST = 1 / 3;
/** No staff for a patch is longer: common practice, no source. */
const LONGEST_STAFF = 5;

const millimetres = (length: number): string => `${fixed(length * 1000, 1)}${HARD_SPACE}mm`;

const median = (values: readonly number[]): number => {
  const sorted = values.toSorted((a, b) => a - b);
  const half = sorted.length / 2;
  return ((sorted[Math.floor(half)] as number) + (sorted[Math.ceil(half) - 1] as number)) / 2;
};

const NEXT: Readonly<Record<ReadingCause['code'] | 'outlier', string>> = {
  'wrong unit': 'Correct the unit of this sight; the others stay.',
  'upside down': 'Read this point again with the staff the right way up.',
  outlier: 'Look at what was written down, or read this point again.',
};

/** A sight as people know it. */
export const sightName = (survey: LevelSurvey, index: number): string => {
  const sight = survey.sights[index];
  const point = survey.points.find(({ id }) => id === sight?.point);
  const where = point?.pad ? `${point.pad} point ${point.id}` : `mark ${sight?.point ?? ''}`;
  return `${where} from set-up ${sight?.setUp ?? ''}`;
};

/** Looks for readings that belong to no patch: they are named, with their cause, and left out. */
export const findGrossReadings = (
  survey: LevelSurvey,
): { readonly findings: readonly SurveyFinding[]; readonly refusal: SurveyRefusal | null } => {
  const findings: SurveyFinding[] = [];
  const { instrument } = survey;
  for (const setUp of survey.setUps) {
    const own = survey.sights.flatMap((sight, index) => {
      if (sight.setUp !== setUp.id || sight.reading === null) return [];
      const isPad = survey.points.find(({ id }) => id === sight.point)?.pad !== null;
      return [{ index, reading: sight.reading, isPad }];
    });
    const onPads = own.filter(({ isPad }) => isPad);
    const basis = onPads.length > 0 ? onPads : own;
    if (basis.length === 0) continue;
    const middle = median(basis.map(({ reading }) => reading));
    const longest = instrument.staffLength ?? LONGEST_STAFF;
    if (instrument.reads === 'staff' && !(middle > 0 && middle < longest))
      return {
        findings,
        refusal: {
          ok: false,
          code: 'wrong unit',
          why: `Readings of set-up ${setUp.id} are about ${fixed(middle, 3)}${HARD_SPACE}m, which no staff of ${fixed(longest, 1)}${HARD_SPACE}m shows.`,
          next: 'Correct the unit of this set-up’s sights; the numbers stay as they were typed.',
          findings,
        },
      };
    const gross = own.filter(
      ({ reading, isPad }) => Math.abs(reading - middle) > (isPad ? FURTHEST : FURTHEST_MARK),
    );
    if (gross.length > MOST * own.length)
      return {
        findings,
        refusal: {
          ok: false,
          code: 'wrong unit',
          why: `Readings of set-up ${setUp.id} lie between ${millimetres(Math.min(...own.map(({ reading }) => reading)))} and ${millimetres(Math.max(...own.map(({ reading }) => reading)))}: they cannot all be of one patch.`,
          next: 'See whether some were read in another unit or with the staff upside down; correct those.',
          findings,
        },
      };
    for (const { index, reading } of gross) {
      const cause = causeOf(instrument, reading, { expected: middle, within: FURTHEST / 3 });
      findings.push({
        code: cause?.code ?? 'outlier',
        what: `${sightName(survey, index)} reads ${millimetres(reading)} where the others are near ${millimetres(middle)}${cause ? `: ${cause.words}` : ''}.`,
        next: NEXT[cause?.code ?? 'outlier'],
        sights: [index],
      });
    }
  }
  return { findings, refusal: null };
};

/** Several sights in a row, the first three by name. */
export const sightNames = (survey: LevelSurvey, sights: readonly number[]): string => {
  const names = [...new Set(sights.map((index) => sightName(survey, index)))];
  return names.length <= 3
    ? listed(names)
    : `${listed(names.slice(0, 2))} and ${names.length - 2} more`;
};
