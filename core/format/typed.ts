import { massFrom, type MassUnit } from '../units.ts';

/** What was typed into a field, understood: a value in SI, or the reason why not. */
export type Typed =
  { readonly ok: true; readonly value: number } | { readonly ok: false; readonly why: string };

const NUMBER = /^([+\-\u2212]?)(\d+(?:[.,]\d*)?|[.,]\d+)\s*(.*)$/u;

interface Parts {
  readonly number: number;
  /** What stood after the number, in lower case. */
  readonly unit: string;
}

const split = (text: string): Parts | null => {
  const match = NUMBER.exec(text.trim());
  if (!match) return null;
  const [, sign = '', digits = '', unit = ''] = match;
  const size = Number(digits.replace(',', '.'));
  if (!Number.isFinite(size)) return null;
  return { number: sign === '' || sign === '+' ? size : -size, unit: unit.trim().toLowerCase() };
};

const refused = (why: string): Typed => ({ ok: false, why });

const METRE_PER: Readonly<Record<string, number>> = { '': 1e-3, mm: 1e-3, cm: 1e-2, m: 1 };

/** A length typed in mm, cm or m, point or comma; a bare number is millimetres. Gives metre. */
export const typedLength = (text: string): Typed => {
  const parts = split(text);
  if (!parts) return refused('A length, for example 2700 mm or 2,7 m.');
  const factor = METRE_PER[parts.unit];
  if (factor === undefined) return refused(`“${parts.unit}” is not mm, cm or m.`);
  return { ok: true, value: parts.number * factor };
};

/** A plain number with at most the one unit the field has. */
export const typedNumber = (text: string, unit: string): Typed => {
  const parts = split(text);
  if (!parts) return refused('A number.');
  if (parts.unit !== '' && parts.unit !== unit.toLowerCase())
    return refused(`“${parts.unit}” is not ${unit}.`);
  return { ok: true, value: parts.number };
};

const MASS_UNIT_OF: Readonly<Record<string, MassUnit>> = { kg: 'kg', lb: 'lb', lbs: 'lb' };

/** A mass typed in kg or lb; a bare number is in the unit that the crew uses. Gives kilogram. */
export const typedMass = (text: string, unit: MassUnit): Typed => {
  const parts = split(text);
  if (!parts) return refused(`A mass, for example 80 ${unit}.`);
  const typedUnit = parts.unit === '' ? unit : MASS_UNIT_OF[parts.unit];
  if (typedUnit === undefined) return refused(`“${parts.unit}” is not kg or lb.`);
  return { ok: true, value: massFrom(typedUnit, parts.number) };
};
