import { listed } from '../answers/answer.ts';
import { CORNERS } from '../corners.ts';
import { fixed, HARD_SPACE } from '../format/number.ts';
import type { ClosingError } from './closingErrors.ts';
import { sightName, sightNames } from './grossReadings.ts';
import type { LevelSurvey, SurveyFinding } from './levelSurvey.ts';
import type { Network } from './network.ts';
import { causeOf } from './readingCause.ts';
import type { SightScatter } from './sightScatter.ts';
import type { Suspicion } from './snooping.ts';

/** A pad's height taken further than this beside the wheel is worth a word. No source. */
const BESIDE = 0.01;
/** A scatter this many times smaller than stated is not luck but another unit or staff. No source. */
const TOO_SMALL = 5;

const millimetres = (length: number, decimals = 2): string =>
  `${fixed(length * 1000, decimals)}${HARD_SPACE}mm`;

/** What one suspicion, or several that explain the same, means in words. */
export const suspicionInWords = (
  survey: LevelSurvey,
  suspicions: readonly Suspicion[],
): SurveyFinding => {
  const [first] = suspicions as readonly [Suspicion, ...Suspicion[]];
  const sights = [...new Set(suspicions.flatMap((each) => each.sights))].toSorted((a, b) => a - b);
  const off = millimetres(Math.abs(first.offset));
  if (suspicions.length > 1)
    return {
      code: first.kind === 'sight' ? 'outlier' : 'moved',
      what: `${listed(suspicions.map((each) => sightNames(survey, each.sights)))} do not agree, by ${off}; which is right cannot be told, and all are left out.`,
      next: 'Read these points again.',
      sights,
    };
  const side = first.offset > 0 ? 'more' : 'less';
  if (first.kind === 'sight') {
    const index = first.sights[0] as number;
    const reading = survey.sights[index]?.reading ?? 0;
    const cause = causeOf(survey.instrument, reading, {
      expected: reading - first.offset,
      within: Math.abs(first.offset) / 50,
    });
    return {
      code: cause?.code ?? 'outlier',
      what: `${sightName(survey, index)} reads ${off} ${side} than the rest says${cause ? `: ${cause.words}` : ''}; it is left out.`,
      next: 'Look at what was written down, or read this point again.',
      sights,
    };
  }
  const names = sightNames(survey, first.sights);
  return {
    code: first.kind === 'point' ? 'outlier' : 'moved',
    what:
      first.kind === 'pad in one set-up'
        ? `The whole pad in ${names} reads ${off} ${side} than from elsewhere: it moved between the set-ups. These sights are left out.`
        : `${names} read ${off} ${side} than the rest says, all repeats alike: ${first.kind === 'point' ? 'dirt or a dent under the staff, or another place' : 'the point moved, or the staff stood elsewhere'}. They are left out.`,
    next: 'Look at the point, wipe it, and read it again.',
    sights,
  };
};

/** Sights that were left out by whoever read them. */
export const missingSights = (survey: LevelSurvey): readonly SurveyFinding[] => {
  const missing = survey.sights.flatMap(({ reading }, index) => (reading === null ? [index] : []));
  if (missing.length === 0) return [];
  return [
    {
      code: 'missing sight',
      what: `No reading for ${sightNames(survey, missing)}.`,
      next: 'The heights hold without it; read it to have the full survey.',
      sights: missing,
    },
  ];
};

/** What is worth a word in a survey that gave heights. */
export const remarks = (
  survey: LevelSurvey,
  about: {
    readonly network: Network;
    readonly scatter: SightScatter;
    readonly closing: readonly ClosingError[];
  },
): readonly SurveyFinding[] => {
  const found: SurveyFinding[] = [];
  const add = (code: SurveyFinding['code'], what: string, next: string): void => {
    found.push({ code, what, next, sights: [] });
  };
  const { scatter, network } = about;
  if (scatter.from === 'points')
    add(
      'uneven pad',
      `Points scatter by ${millimetres(scatter.sd)} about their planes and set-ups, more than repeats do.`,
      'Pads that are not plane, or a staff put down elsewhere: mark the points. The uncertainty allows for it.',
    );
  const { againstStated } = scatter;
  const stated = survey.sightScatter;
  if (stated && againstStated && againstStated.above < 0.01)
    add(
      'scatter',
      `Sights scatter ${fixed(Math.sqrt(againstStated.ratio), 1)} times the stated ${millimetres(stated.sd)}; theirs counts.`,
      'Look for wind, a soft staff foot, a laser that is still warming up.',
    );
  if (
    stated &&
    againstStated &&
    againstStated.below < 0.01 &&
    againstStated.ratio * TOO_SMALL ** 2 < 1
  )
    add(
      'scatter',
      `Sights scatter ${fixed(1 / Math.sqrt(againstStated.ratio), 0)} times less than the stated ${millimetres(stated.sd)}.`,
      'Were they read in inches or centimetres and typed as something smaller? Were repeats copied?',
    );
  for (const loop of about.closing.filter(({ closes }) => !closes))
    add(
      'closing error',
      `Set-ups ${listed(loop.setUps)} close with ${millimetres(loop.error)} over points ${listed(loop.points)}, u ${millimetres(loop.u)}.`,
      'Read one of these points again from both set-ups.',
    );
  for (const corner of CORNERS) {
    const beside = network.pads[corner]?.beside ?? 0;
    if (beside > BESIDE)
      add(
        'beside the wheel',
        `${corner} was read ${millimetres(beside, 0)} beside where its wheel stands.`,
        'A tilted pad is higher or lower there: read its middle, or three points about it.',
      );
  }
  const { cone, tilt } = survey.instrument;
  const unplaced = cone !== 0 && cone !== null && network.cone === null;
  const uncounted = [
    ...(cone === null || unplaced ? ['cone or collimation'] : []),
    ...(tilt === null ? ['tilt'] : []),
  ];
  if (uncounted.length > 0)
    add(
      'not counted',
      `The instrument’s ${listed(uncounted)} is in no uncertainty here${unplaced ? ': where it stood is not known' : ''}.`,
      cone === null || unplaced
        ? 'Take it from the instrument’s papers, measure where it stands, and keep distances equal.'
        : 'Take it from the instrument’s papers; it matters for level, hardly for twist.',
    );
  return found;
};
