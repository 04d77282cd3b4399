import { listed } from '../answers/answer.ts';
import type { Limits, Verdict } from '../contract/calibrationRecord.ts';
import { fixed, HARD_SPACE } from '../format/number.ts';
import { inWords, massShown } from '../format/quantity.ts';
import type { MassUnit } from '../units.ts';

type TestResult = Verdict['tests'][number];

const limitsInWords = (limits: Limits, unit: MassUnit): string => {
  if (limits.is === 'class') {
    // An interval is a round number of kilograms by its nature, whatever unit the screen shows.
    return `class ${limits.accuracy} limits at e = ${String(limits.interval)}${HARD_SPACE}kg, ${limits.when}`;
  }
  const parts = [
    ...(limits.fixed > 0 ? [inWords(massShown(unit, limits.fixed, { decimals: 2 }))] : []),
    ...(limits.share > 0 ? [`${fixed(100 * limits.share, 3)}${HARD_SPACE}% of the load`] : []),
  ];
  return `own limits of ${parts.join(' plus ')}`;
};

const NAMES: Readonly<Record<TestResult['test'], string>> = {
  errors: 'error',
  repeatability: 'range of repeats',
  'zero return': 'zero return',
  creep: 'creep',
  masses: 'uncertainty of what was applied',
  intervals: 'number of intervals',
};

const outsideInWords = ({ test, worst, limit, load }: TestResult, unit: MassUnit): string => {
  const show = (mass: number): string => inWords(massShown(unit, mass, { decimals: 2 }));
  if (worst === null) return NAMES[test];
  if (test === 'intervals')
    return `${fixed(worst, 0)} intervals, the class ${limit !== null && worst < limit ? 'asks for at least' : 'allows'} ${limit === null ? 'any' : fixed(limit, 0)}`;
  const at = load === null ? '' : ` at ${show(load)}`;
  return limit === null
    ? `${NAMES[test]}${at}, which is beyond the class`
    : `${NAMES[test]} of ${show(worst)}${at}, limit ${show(limit)}`;
};

/** A verdict as one or two sentences: what it is within, or what is outside and by how much. */
export const verdictInWords = ({ against, outcome, tests }: Verdict, unit: MassUnit): string => {
  const limits = limitsInWords(against, unit);
  if (outcome === 'outside') {
    const outside = tests.filter((each) => each.outcome === 'outside');
    return `Outside ${limits}: ${listed(outside.map((each) => outsideInWords(each, unit)))}.`;
  }
  const unseen = tests.filter((each) => each.outcome === 'not seen').map(({ test }) => test);
  if (outcome === 'cannot tell') {
    const why = unseen.includes('errors')
      ? 'no load was read'
      : 'how well the applied loads are known is not stated';
    return `Cannot tell whether within ${limits}: ${why}.`;
  }
  const rest = unseen.length > 0 ? ` Not seen: ${listed(unseen)}.` : '';
  return `Errors within ${limits}.${rest}`;
};
