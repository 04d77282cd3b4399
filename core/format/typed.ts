import type { MassUnit } from '../units.ts';
import { typedNumeral, type Numeral } from './typedNumeral.ts';
import { firstUnit, UNITS, unitOf, type QuantityKind, type Unit } from './unitTable.ts';
import { valueText } from './valueShown.ts';

/** What was typed into a field, understood: a value in SI with the words that say it back, or why not. */
export type Typed =
  | { readonly ok: true; readonly value: number; readonly understood: string }
  | { readonly ok: false; readonly why: string };

/** What a field takes. */
export interface TypedField {
  readonly kind: QuantityKind;
  /** Unit of a bare number, as it is shown; of an angle with a diameter also a unit of length. */
  readonly unit: string;
  /** Measuring diameter, m: an angle may then be typed as a length over it, as toe is (asin). */
  readonly diameter?: number;
}

const refused = (why: string): Typed => ({ ok: false, why });

const EXAMPLES: Readonly<Record<QuantityKind, string>> = {
  mass: 'A mass, for example 80.5 kg or 3 lb.',
  length: 'A length, for example 2700 mm, 2,7 m or 12 3/16 in.',
  angle: 'An angle, for example −1.5°, 1°20′ or 30′.',
  share: 'A share, for example 50.4 %.',
  turns: 'Turns, for example 1/2 or −1 1/4.',
  clicks: 'A number of clicks, for example 12.',
  pressure: 'A pressure, for example 1.8 bar or 26 psi.',
  volume: 'A volume, for example 60 l.',
  density: 'A density, for example 0.745 kg/l.',
  rate: 'A rate, for example 180 N/mm or 1000 lb/in.',
  torsion: 'A stiffness, for example 25 kNm/°.',
  number: 'A number.',
};

/** How a typed number is said back. Quotes and words of units become the shown form. */
const saidBack = (numeral: Numeral, unit: string): string => {
  const space = unit === '' || /^[°′]/u.test(unit) ? '' : ' ';
  return `${numeral.text}${space}${unit}`;
};

const understood = (field: TypedField, value: number, said: string, unit: string): Typed => {
  if (!Number.isFinite(value)) return refused(EXAMPLES[field.kind]);
  const inField =
    unit === field.unit ? '' : ` = ${valueText({ kind: field.kind, unit: field.unit }, value)}`;
  return { ok: true, value, understood: said + inField };
};

const listOf = (units: readonly Unit[]): string => {
  const names = units.map(({ unit }) => unit);
  return names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} or ${names.at(-1)}`;
};

const PART = String.raw`(\d+(?:[.,]\d+)?)\s*`;
/** Degrees, minutes and seconds, each optional; the mark of minutes may be left out after degrees. */
const SEXAGESIMAL = new RegExp(
  `^([+-]?)\\s*(?:${PART}(?:°|deg(?:rees?)?)\\s*)?(?:${PART}(?:'|min(?:utes?)?|$)\\s*)?(?:${PART}(?:"|sec(?:onds?)?)\\s*)?$`,
  'iu',
);

const decimal = (text: string): number => Number(text.replace(',', '.'));

/** An angle of several parts, 1°20′30″. Null where it is not written so. */
const sexagesimal = (text: string, field: TypedField): Typed | null => {
  const match = SEXAGESIMAL.exec(text);
  if (!match) return null;
  const [, sign = '', degrees, minutes, seconds] = match;
  const parts = [degrees, minutes, seconds];
  const given = parts.filter((part) => part !== undefined);
  if (given.length < 2 && seconds === undefined) return null;
  const last = parts.findLastIndex((part) => part !== undefined);
  const first = parts.findIndex((part) => part !== undefined);
  for (const [index, part] of parts.entries()) {
    if (part === undefined) {
      if (index > first && index < last) return refused('Degrees and seconds, but no minutes.');
      continue;
    }
    if (index < last && /[.,]/u.test(part))
      return refused('A decimal point only in the last part: 1.5° or 1°30′.');
    if (index > first && decimal(part) >= 60) return refused('Minutes and seconds go up to 60.');
  }
  const size = parts.reduce((sum, part, i) => sum + decimal(part ?? '0') / 60 ** i, 0);
  const marks = ['°', '′', '″'];
  const said = parts.flatMap((part, i) =>
    part === undefined ? [] : [part.replace(',', '.') + (marks[i] as string)],
  );
  const radians = ((sign === '-' ? -size : size) * Math.PI) / 180;
  const shown = (sign === '-' ? '−' : '') + said.join('');
  return understood(field, radians, shown, 'parts');
};

/** Inches are divided by these; nobody divides a millimetre so. */
const INCH_FRACTIONS = [8, 16, 32, 64];

/** The unit that was meant, or words where it cannot be told. */
const unitTyped = (numeral: Numeral, typed: string, { kind, unit }: TypedField): Unit | string => {
  if (typed !== '') {
    const known = UNITS[kind].find((each) => each.typed.includes(typed));
    if (known) return known;
    const takes = kind === 'number' ? 'understood: a number alone' : listOf(UNITS[kind]);
    return `“${typed}” is not ${takes}.`;
  }
  const own = unitOf(kind, unit) ?? firstUnit(kind);
  if (kind !== 'length' || numeral.denominator === null || own.unit === 'in') return own;
  if (INCH_FRACTIONS.includes(numeral.denominator)) return unitOf('length', 'in') ?? own;
  return `Inch or ${own.words}? Write ${numeral.text} in or ${numeral.text} ${own.unit}.`;
};

/** The length unit in which an angle was typed over a diameter; null where it was not. */
const lengthOverDiameter = (typed: string, field: TypedField): Unit | null => {
  if (typed === '') return unitOf('length', field.unit);
  // A double prime is seconds in a field of angles.
  return UNITS.length.find((each) => typed !== '"' && each.typed.includes(typed)) ?? null;
};

/** Marks of other keyboards and typographers, as the grammar has them. */
const plainMarks = (text: string): string =>
  text
    .replace(/[\u2212\u2013]/gu, '-')
    .replace(/[\u2032\u2019\u00b4]/gu, "'")
    .replace(/[\u2033\u201d]|''/gu, '"')
    .replace(/\u00ba/gu, '°')
    .replace(/\s+/gu, ' ')
    .trim();

/**
 * Understands what was typed into a field of one kind of quantity: whole numbers, point or comma,
 * fractions (`12 3/16`, `½`), signs, degrees with minutes and seconds (`1°20'`, `30'`), and every unit of
 * the kind; a bare number is in the field's unit. A bare eighth, sixteenth … of a length is taken as
 * inches and said so; a bare half in a field of millimetres is asked about. Gives SI.
 */
export const typedValue = (text: string, field: TypedField): Typed => {
  const plain = plainMarks(text);
  if (field.kind === 'angle') {
    const parts = sexagesimal(plain, field);
    if (parts) return parts;
  }
  const split = typedNumeral(plain);
  if (!split) return refused(EXAMPLES[field.kind]);
  const { numeral, rest } = split;
  const typed = rest.toLowerCase();

  if (field.kind === 'angle' && field.diameter !== undefined) {
    const length = lengthOverDiameter(typed, field);
    if (length) {
      const sine = (numeral.value * length.inSi) / field.diameter;
      if (!(Math.abs(sine) <= 1)) return refused('That is more than the measuring diameter.');
      return understood(field, Math.asin(sine), saidBack(numeral, length.unit), length.unit);
    }
  }
  const unit = unitTyped(numeral, typed, field);
  if (typeof unit === 'string') return refused(unit);
  return understood(field, numeral.value * unit.inSi, saidBack(numeral, unit.unit), unit.unit);
};

/** A length in mm, cm, m or in; a bare number is millimetres. Gives metre. */
export const typedLength = (text: string): Typed =>
  typedValue(text, { kind: 'length', unit: 'mm' });

/** A plain number with at most the one unit the field has. */
export const typedNumber = (text: string, unit: string): Typed => {
  const split = typedNumeral(plainMarks(text));
  if (!split) return refused(EXAMPLES.number);
  if (split.rest !== '' && split.rest.toLowerCase() !== unit.toLowerCase())
    return refused(`“${split.rest}” is not ${unit}.`);
  return { ok: true, value: split.numeral.value, understood: saidBack(split.numeral, unit) };
};

/** A mass in kg, g or lb; a bare number is in the unit that the crew uses. Gives kilogram. */
export const typedMass = (text: string, unit: MassUnit): Typed =>
  typedValue(text, { kind: 'mass', unit });
