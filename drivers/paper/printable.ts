/** Stands for a letter that the face lacks. */
export const LACKING = '?';

/** Characters of our own words that a Latin face may lack, and what says the same. */
const INSTEAD: Readonly<Record<string, string>> = {
  '≤': '<=',
  '≥': '>=',
  '≈': '~',
  '→': '->',
  '√': 'sqrt ',
  σ: 's',
  Δ: 'd',
  Σ: 'sum ',
  '\u2010': '-',
  '\u2044': '/',
  '\u2212': '-',
};

/** A fraction after a whole number would run into it once it is spelt out: 1⅙ is 1 1/6. */
const AFTER_DIGIT = /(\d)(?=[⅐-⅞↉])/gu;

/**
 * The text in characters that the face has: a fraction it lacks is spelt out, a letter loses its accent,
 * and what has no likeness becomes a question mark. Line ends stay; other control characters are spaces.
 */
export const printable = (text: string, has: (character: string) => boolean): string => {
  const spaced = text.replace(AFTER_DIGIT, '$1 ');
  return Array.from(spaced)
    .map((character) => {
      if (character === '\n') return character;
      if (/\p{Cc}/u.test(character)) return ' ';
      if (has(character)) return character;
      const likeness = Array.from(INSTEAD[character] ?? character.normalize('NFKD'))
        .filter((part) => !/\p{M}/u.test(part))
        .map((part) => INSTEAD[part] ?? part);
      return likeness.length > 0 && likeness.every((part) => Array.from(part).every(has))
        ? likeness.join('')
        : LACKING;
    })
    .join('');
};

/** The same data with every text in it made printable. */
export const printableAll = <T>(data: T, has: (character: string) => boolean): T => {
  const walk = (value: unknown): unknown => {
    if (typeof value === 'string') return printable(value, has);
    if (Array.isArray(value)) return value.map(walk);
    if (value !== null && typeof value === 'object')
      return Object.fromEntries(Object.entries(value).map(([key, each]) => [key, walk(each)]));
    return value;
  };
  return walk(data) as T;
};
