import { fixed, MINUS } from '../format/number.ts';

/** Numbers on paper that no screen shows: rounded to digits that count, or not rounded at all. */

const withMinus = (text: string): string => text.replaceAll('-', MINUS);

/** To so many significant digits, without zeros that say nothing: "0.05", "4194304", "1e−7". */
export const significant = (value: number, digits: number): string =>
  Number.isFinite(value) ? withMinus(String(Number(value.toPrecision(digits)))) : 'no limit';

/** Finest decimals of an uncertainty that are written out. */
const MOST_DECIMALS = 9;

/** Two significant digits, zeros kept: how an uncertainty is written (JCGM 100:2008, 7.2.6). */
export const uncertain = (u: number): string => {
  if (u === 0) return '0';
  const decimals = 1 - Math.floor(Math.log10(Math.abs(Number(u.toPrecision(2)))));
  return decimals > MOST_DECIMALS ? significant(u, 2) : fixed(u, Math.max(0, decimals));
};

/** Every digit it takes to read the same number again, with an exponent. */
export const exact = (value: number): string => withMinus(value.toExponential());

/** Degrees of freedom, no finer than they mean anything. */
export const dofInWords = (dof: number): string =>
  Number.isFinite(dof) ? significant(dof, 3) : 'no limit';
