import type { z } from 'zod';

/** One thing that is wrong with a description: where, and what to do. */
export interface DescriptionProblem {
  /** As in `payload.fields[2].width`; empty for the text as a whole. */
  readonly path: string;
  readonly what: string;
}

/** Takes one problem: its place, and what to do. */
export type Tell = (path: string, what: string) => void;

/** More than anybody reads at once; the rest shows after these are put right. */
export const MOST_PROBLEMS = 40;

type Issue = z.core.$ZodIssue;

const pathText = (path: readonly PropertyKey[]): string =>
  path.reduce<string>(
    (text, part) =>
      typeof part === 'number'
        ? `${text}[${part}]`
        : `${text}${text === '' ? '' : '.'}${String(part)}`,
    '',
  );

const valueAt = (input: unknown, path: readonly PropertyKey[]): unknown => {
  let value = input;
  for (const part of path) {
    if (typeof value !== 'object' || value === null) return undefined;
    value = Object.getOwnPropertyDescriptor(value, part)?.value;
  }
  return value;
};

const KINDS: Readonly<Record<string, string>> = {
  string: 'text',
  number: 'a number',
  boolean: 'true or false',
  array: 'a list',
  object: 'an object',
  tuple: 'a list of two numbers',
};

const list = (values: readonly unknown[]): string =>
  `${values.length > 1 ? 'one of ' : ''}${values.map((value) => JSON.stringify(value)).join(', ')}`;

const sizeText = (issue: Extract<Issue, { code: 'too_big' | 'too_small' }>): string => {
  const bound = issue.code === 'too_big' ? `at most ${issue.maximum}` : `at least ${issue.minimum}`;
  switch (issue.origin) {
    case 'string':
      return `write ${bound} characters`;
    case 'array':
    case 'set':
      return `give ${bound}`;
    default:
      return `write a number of ${bound}`;
  }
};

const whatToDo = (issue: Issue, value: unknown): string => {
  switch (issue.code) {
    case 'invalid_type': {
      const wanted = KINDS[issue.expected] ?? issue.expected;
      return value === undefined ? `missing: add ${wanted}` : `write ${wanted} here`;
    }
    case 'invalid_value':
      return value === undefined
        ? `missing: add ${list(issue.values)}`
        : `write ${list(issue.values)}`;
    case 'too_big':
    case 'too_small':
      return sizeText(issue);
    case 'invalid_union': {
      const options = 'options' in issue && Array.isArray(issue.options) ? issue.options : [];
      const which = options.length > 0 ? list(options) : 'a kind that the page lists';
      return value === undefined ? `missing: add ${which}` : `write ${which}`;
    }
    default:
      return issue.message;
  }
};

/** Turns what the schema found into problems with their places in the input. */
export const problemsOf = (error: z.ZodError, input: unknown): readonly DescriptionProblem[] =>
  error.issues
    .flatMap((issue): DescriptionProblem[] => {
      if (issue.code === 'unrecognized_keys')
        return issue.keys.map((key) => ({
          path: pathText([...issue.path, key]),
          what: 'take it out or correct its spelling: the format has no such word here',
        }));
      return [{ path: pathText(issue.path), what: whatToDo(issue, valueAt(input, issue.path)) }];
    })
    .slice(0, MOST_PROBLEMS);
