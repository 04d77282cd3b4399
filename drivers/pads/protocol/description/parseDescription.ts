import { compileDescription, type Compiled } from './compileDescription.ts';
import { descriptionSchema, LONGEST_TEXT, type PadDescription } from './descriptionSchema.ts';
import { MOST_PROBLEMS, problemsOf } from './problems.ts';

const refused = (what: string): Compiled => ({ ok: false, problems: [{ path: '', what }] });

/**
 * Reads the text of a pad description: a pad that works, or everything that is wrong with it, each
 * with its place and what to do. Any text gives one or the other; nothing is thrown.
 */
export const parseDescription = (text: string): Compiled => {
  if (text.length > LONGEST_TEXT)
    return refused(`shorten it: a description has at most ${LONGEST_TEXT} characters`);
  let input: unknown;
  try {
    input = JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    return refused(`correct the JSON: ${why.split('\n')[0] ?? ''}`);
  }
  const parsed = descriptionSchema.safeParse(input);
  if (!parsed.success) return { ok: false, problems: problemsOf(parsed.error, input) };
  const compiled = compileDescription(parsed.data);
  return compiled.ok
    ? compiled
    : { ok: false, problems: compiled.problems.slice(0, MOST_PROBLEMS) };
};

/** Longest line on which a list or an object is written whole, characters. */
const ONE_LINE = 98;

/** JSON as people write it; `before` is what already stands on the line, `indent` how it began. */
const written = (value: unknown, indent: string, before: number): string => {
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  const isList = Array.isArray(value);
  const entries = Object.entries(value).filter(([, one]) => one !== undefined);
  const deeper = `${indent}  `;
  const parts = entries.map(([key, one]) => {
    const label = isList ? '' : `${JSON.stringify(key)}: `;
    return `${label}${written(one, deeper, deeper.length + label.length)}`;
  });
  const [open, close, gap] = isList ? ['[', ']', ''] : ['{', '}', ' '];
  if (parts.length === 0) return `${open}${close}`;
  const line = `${open}${gap}${parts.join(', ')}${gap}${close}`;
  const isWhole = indent !== '' && !line.includes('\n') && before + line.length <= ONE_LINE;
  if (isWhole) return line;
  return `${open}\n${parts.map((part) => `${deeper}${part}`).join(',\n')}\n${indent}${close}`;
};

/** The text of a description, for a file: read again it gives the same description. */
export const describe = (description: PadDescription): string => `${written(description, '', 0)}\n`;
