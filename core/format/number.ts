/** U+2212: a hyphen is too short to be seen at two metres. */
export const MINUS = '\u2212';
/** Keeps a number and its unit on one line. */
export const HARD_SPACE = '\u00A0';

/** A number with fixed decimals, a true minus sign, and no sign on what rounds to zero. */
export const fixed = (value: number, decimals: number): string => {
  if (!Number.isFinite(value)) throw new RangeError(`not a finite number: ${value}`);
  const text = Math.abs(value).toFixed(decimals);
  return value < 0 && Number(text) !== 0 ? MINUS + text : text;
};

/** The same with a plus sign where it is above zero: for changes. */
export const signed = (value: number, decimals: number): string => {
  const text = fixed(value, decimals);
  return value > 0 && Number(text) !== 0 ? `+${text}` : text;
};
