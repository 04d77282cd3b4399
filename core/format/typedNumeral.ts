import { MINUS } from './number.ts';

/** A number as it was typed: whole, decimal, fraction or mixed. */
export interface Numeral {
  readonly value: number;
  /** Said back, in a form that is understood again as the same number. */
  readonly text: string;
  /** Of its fraction; null where it has none. */
  readonly denominator: number | null;
}

/** Fractions that have a character of their own, which tablets and typographers put in. */
const FRACTION_SIGNS: Readonly<Record<string, string>> = {
  '½': '1/2',
  '¼': '1/4',
  '¾': '3/4',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
};

const SIGN = String.raw`([+-]?)\s*`;
const FRACTION = new RegExp(
  String.raw`^${SIGN}(?:(\d{1,9}) )?(\d{1,4}) ?/ ?(\d{1,4})(?![\d.,/])`,
  'u',
);
const DECIMAL = new RegExp(
  String.raw`^${SIGN}(\d{1,12}(?:[.,]\d{0,12})?|[.,]\d{1,12})(?![\d.,/])`,
  'u',
);

/**
 * Splits text into the number it begins with and what follows. Minus signs are hyphens and blanks
 * single here. A thousands separator is not understood: `1,305` is 1.305. Null where no number stands
 * there, or one that cannot be (12 17/16, 1/0).
 */
export const typedNumeral = (
  text: string,
): { readonly numeral: Numeral; readonly rest: string } | null => {
  const plain = text
    .replace(/ ?([½¼¾⅛⅜⅝⅞])/gu, (_, sign: string) => ` ${FRACTION_SIGNS[sign]}`)
    .trim();
  const fraction = FRACTION.exec(plain);
  const match = fraction ?? DECIMAL.exec(plain);
  if (!match) return null;
  const rest = plain.slice(match[0].length).trim();
  const negative = match[1] === '-';
  const signed = (size: number, said: string): Numeral => ({
    value: negative ? -size : size,
    text: (negative ? MINUS : '') + said,
    denominator: fraction ? Number(match[4]) : null,
  });
  if (!fraction) {
    const [whole = '', part = ''] = (match[2] as string).replace(',', '.').split('.');
    const kept = whole.replace(/^0+(?=\d)/u, '') || '0';
    const said = part === '' ? kept : `${kept}.${part}`;
    return { numeral: signed(Number(said), said), rest };
  }
  const [whole, top, bottom] = [match[2], Number(match[3]), Number(match[4])];
  if (bottom === 0 || (whole !== undefined && top >= bottom)) return null;
  const size = Number(whole ?? 0) + top / bottom;
  return {
    numeral: signed(size, `${whole === undefined ? '' : `${Number(whole)} `}${top}/${bottom}`),
    rest,
  };
};
