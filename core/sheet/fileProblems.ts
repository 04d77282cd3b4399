import type { z } from 'zod';
import { CORNERS } from '../corners.ts';
import { mixedUp } from './mixedUp.ts';

/** What the schemas find in a file, in words: where it is and what to do. */

/** More than anybody reads at once; the rest shows after these are put right. */
const MOST_PROBLEMS = 6;

/** Lengths of a car: in these a number that is too big is probably millimetres. */
const LENGTHS = ['wheelbase', 'trackFront', 'trackRear', 'cgHeight', 'perchPitch', 'x', 'y', 'z'];

const valueAt = (input: unknown, path: readonly PropertyKey[]): unknown => {
  let value = input;
  for (const part of path) {
    if (typeof value !== 'object' || value === null) return undefined;
    value = Object.getOwnPropertyDescriptor(value, part)?.value;
  }
  return value;
};

const isMissing = (issue: z.core.$ZodIssue, input: unknown): boolean =>
  valueAt(input, issue.path) === undefined;

const whatIsWrong = (issue: z.core.$ZodIssue, input: unknown): string => {
  const last = issue.path.at(-1);
  if (issue.code === 'unrecognized_keys')
    return `${issue.keys.map((key) => `“${key}”`).join(', ')} is not part of the format`;
  if (isMissing(issue, input)) {
    if (last === 'cross') return 'the diagonal of the cross weight is not stated: RF+LR or LF+RR';
    return CORNERS.some((corner) => corner === last)
      ? 'this corner is missing: all four are needed'
      : 'missing';
  }
  if (issue.code !== 'too_big' && issue.code !== 'too_small') return issue.message;
  const value = valueAt(input, issue.path);
  if (typeof value !== 'number') return issue.message;
  const bound = issue.code === 'too_big' ? `at most ${issue.maximum}` : `at least ${issue.minimum}`;
  const guess =
    issue.code === 'too_big' && LENGTHS.some((name) => name === last)
      ? mixedUp(value, {
          kind: 'length',
          field: null,
          expected: null,
          possible: [0, Number(issue.maximum)],
        })
      : null;
  return `${value} cannot be, ${bound}.${guess ? ` ${guess.words}` : ''}`;
};

const pathText = (path: readonly PropertyKey[]): string =>
  path.map((part) => (typeof part === 'number' ? `[${part + 1}]` : String(part))).join('.');

/** The problems of one thing in a file as one text. Places in lists are counted from one. */
export const fileProblems = (error: z.ZodError, input: unknown): string =>
  error.issues
    .slice(0, MOST_PROBLEMS)
    .map((issue) => {
      const path = pathText(issue.path);
      const what = whatIsWrong(issue, input);
      return path === '' ? what : `${path}: ${what}`;
    })
    .join('; ');
