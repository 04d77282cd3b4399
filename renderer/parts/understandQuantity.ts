import { typedNumber, typedValue } from '../../core/format/typed.ts';
import { valueText, type Wanted } from '../../core/format/valueShown.ts';
import { firstUnit } from '../../core/format/unitTable.ts';
import type { Understood } from './Field.tsx';

/** What a field is told about the values it takes. */
export interface QuantityField extends Wanted {
  /** Why a value is not taken; null takes it. */
  readonly refuse?: (value: number) => string | null;
}

/** A value in SI of a kind of quantity. */
export const understandQuantity =
  ({ kind, unit, refuse }: QuantityField) =>
  (text: string): Understood<number> => {
    const typed = typedValue(text, { kind, unit: unit ?? firstUnit(kind).unit });
    if (!typed.ok) return typed;
    const why = refuse?.(typed.value) ?? null;
    return why === null
      ? { ok: true, value: typed.value, said: typed.understood }
      : { ok: false, why };
  };

/** The same where the field may be emptied, which is null; `none` says what that means. */
export const understandOrNone =
  (field: QuantityField & { readonly none: string }) =>
  (text: string): Understood<number | null> =>
    text.trim() === '' || text.trim() === '—'
      ? { ok: true, value: null, said: field.none }
      : understandQuantity(field)(text);

/** The text of such a field: one decimal finer than elsewhere, no zeros at its end; a dash for none. */
export const quantityField = (wanted: Wanted, value: number | null): string =>
  value === null ? '—' : valueText(wanted, value, 0).replace(/\.?0+(?=\D*$)/u, '');

/** A whole number from 0 on. */
export const understandCount =
  (most: number) =>
  (text: string): Understood<number> => {
    const typed = typedNumber(text, '');
    if (!typed.ok) return typed;
    return Number.isInteger(typed.value) && typed.value >= 0 && typed.value <= most
      ? { ok: true, value: typed.value, said: String(typed.value) }
      : { ok: false, why: `A whole number from 0 to ${most}.` };
  };
