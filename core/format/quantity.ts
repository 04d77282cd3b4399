import { massIn, type MassUnit } from '../units.ts';
import { decimalsFor } from './decimals.ts';
import { fixed, HARD_SPACE, signed } from './number.ts';

/**
 * Values as people read them: the number, its unit and its standard uncertainty apart, so that a
 * screen can set them in their own sizes. Every conversion for the eye goes through here.
 */
export interface Shown {
  readonly number: string;
  readonly unit: string;
  /** Standard uncertainty in the same unit, without a sign; null where there is none. */
  readonly u: string | null;
}

/** Two decimals of a kilogram or pound are the most any screen shows; common practice, no source. */
const MOST_MASS_DECIMALS = 2;
const MOST_SHARE_DECIMALS = 2;

/** The most decimals of an uncertainty: one more than any value has. */
const MOST_U_DECIMALS = 3;

/** An uncertainty that rounds away is not zero: it takes one more digit, else it is less than that. */
const uncertainty = (u: number, decimals: number): string => {
  const text = fixed(u, decimals);
  if (u === 0 || Number(text) !== 0) return text;
  if (decimals < MOST_U_DECIMALS) return uncertainty(u, decimals + 1);
  return `<${fixed(10 ** -decimals, decimals)}`;
};

interface Rough {
  /** Decimals while there is no uncertainty to say how many are supported. */
  readonly decimals: number;
}

/** A mass in kg with its standard uncertainty in kg, or without one and so many decimals. */
export const massShown = (unit: MassUnit, mass: number, known: number | Rough): Shown => {
  if (typeof known !== 'number')
    return { number: fixed(massIn(unit, mass), known.decimals), unit, u: null };
  const u = massIn(unit, known);
  const decimals = decimalsFor(u, MOST_MASS_DECIMALS);
  return { number: fixed(massIn(unit, mass), decimals), unit, u: uncertainty(u, decimals) };
};

/** A change of mass in kg, always with its sign. */
export const massChangeShown = (unit: MassUnit, change: number, known: number): Shown => {
  const u = massIn(unit, known);
  const decimals = decimalsFor(u, MOST_MASS_DECIMALS);
  return { number: signed(massIn(unit, change), decimals), unit, u: uncertainty(u, decimals) };
};

/** A share (fraction of one) in percent. */
export const shareShown = (share: number, known: number | Rough): Shown => {
  if (typeof known !== 'number')
    return { number: fixed(share * 100, known.decimals), unit: '%', u: null };
  const u = known * 100;
  const decimals = decimalsFor(u, MOST_SHARE_DECIMALS);
  return { number: fixed(share * 100, decimals), unit: '%', u: uncertainty(u, decimals) };
};

/** A change of share in points of percent, always with its sign. */
export const shareChangeShown = (change: number, known: number): Shown => {
  const u = known * 100;
  const decimals = decimalsFor(u, MOST_SHARE_DECIMALS);
  return { number: signed(change * 100, decimals), unit: '%', u: uncertainty(u, decimals) };
};

/** A length in metre as millimetres, no finer than a tenth. */
export const lengthShown = (length: number, u: number): Shown => {
  const decimals = decimalsFor(u * 1000, 1);
  return { number: fixed(length * 1000, decimals), unit: 'mm', u: uncertainty(u * 1000, decimals) };
};

/** Number and unit in one text, for answers and labels. */
export const inWords = ({ number, unit, u }: Shown): string =>
  u === null ? `${number}${HARD_SPACE}${unit}` : `${number}${HARD_SPACE}±${u}${HARD_SPACE}${unit}`;

const MINUTE = 60;
const HOUR = 3600;
const DAY = 86400;

/** How long ago, from seconds: tenths below ten seconds, then whole units, rounded down. */
export const ageShown = (seconds: number): string => {
  const age = Math.max(0, seconds);
  if (age < 10) return `${fixed(Math.floor(age * 10) / 10, 1)}${HARD_SPACE}s`;
  if (age < 2 * MINUTE) return `${Math.floor(age)}${HARD_SPACE}s`;
  if (age < 2 * HOUR) return `${Math.floor(age / MINUTE)}${HARD_SPACE}min`;
  if (age < 2 * DAY) return `${Math.floor(age / HOUR)}${HARD_SPACE}h`;
  return `${Math.floor(age / DAY)} days`;
};

const QUARTERS = ['', '¼', '½', '¾'] as const;

/** Turns with their sign, in quarters where they are whole quarters: "+1¼", "−½", "0". */
export const turnsShown = (turns: number): string => {
  const quarters = Math.round(turns * 4);
  if (Math.abs(turns * 4 - quarters) > 1e-6) return signed(turns, 2);
  if (quarters === 0) return '0';
  const whole = Math.floor(Math.abs(quarters) / 4);
  const part = QUARTERS[Math.abs(quarters) % 4] ?? '';
  return `${quarters > 0 ? '+' : '\u2212'}${whole === 0 ? '' : whole}${part}`;
};
