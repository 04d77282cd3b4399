import { decimalsFor } from './decimals.ts';
import { fixed, HARD_SPACE, signed } from './number.ts';
import { firstUnit, unitOf, type QuantityKind, type Unit } from './unitTable.ts';

/** A kind of quantity and the unit people want it in; null is the first of the kind. */
export interface Wanted {
  readonly kind: QuantityKind;
  readonly unit: string | null;
}

export const MM = { kind: 'length', unit: 'mm' } as const satisfies Wanted;
export const PERCENT = { kind: 'share', unit: '%' } as const satisfies Wanted;

const unitWanted = ({ kind, unit }: Wanted): Unit =>
  (unit === null ? null : unitOf(kind, unit)) ?? firstUnit(kind);

/** Units that stand at their number without a space: 1.2°, 11.3′. */
const gap = (unit: string): string => (unit === '' || /^[°′]/u.test(unit) ? '' : HARD_SPACE);

/** One more decimal than without an uncertainty is the most that one may ask for. */
const decimalsIn = (unit: Unit, u: number | null): number =>
  u === null ? unit.decimals : decimalsFor(u / unit.inSi, unit.decimals + 1);

/**
 * A value in SI as text with its unit: "12.5 mm", "−1.20°", "50.4 %". Decimals after the standard
 * uncertainty `u` (SI), after the unit's habit where it is null.
 */
export const valueText = (wanted: Wanted, value: number, u: number | null = null): string => {
  const unit = unitWanted(wanted);
  return fixed(value / unit.inSi, decimalsIn(unit, u)) + gap(unit.unit) + unit.unit;
};

/** The same with a plus sign where it is above zero: for changes and differences. */
export const changeText = (wanted: Wanted, value: number, u: number | null = null): string => {
  const unit = unitWanted(wanted);
  return signed(value / unit.inSi, decimalsIn(unit, u)) + gap(unit.unit) + unit.unit;
};

/** The most decimals of an uncertainty: one more than any value has. */
const MOST_U_DECIMALS = 3;

/** A standard uncertainty in SI with its unit: "0.14 mm"; what rounds away is less than the last digit. */
export const uncertaintyText = (wanted: Wanted, u: number): string => {
  const unit = unitWanted(wanted);
  const shown = u / unit.inSi;
  const decimals = decimalsFor(shown, MOST_U_DECIMALS);
  const text = fixed(shown, decimals);
  const number = u > 0 && Number(text) === 0 ? `<${fixed(10 ** -decimals, decimals)}` : text;
  return number + gap(unit.unit) + unit.unit;
};

/**
 * A value with its standard uncertainty, both to the same last digit: "12.50 mm ±0.14 mm". Where the
 * value may not show as many digits as are known, the uncertainty is said to be less than its last one.
 */
export const measuredText = (
  wanted: Wanted,
  { value, u }: { readonly value: number; readonly u: number },
): string => {
  const unit = unitWanted(wanted);
  const decimals = decimalsIn(unit, u);
  const own = fixed(u / unit.inSi, decimals);
  const shown = u > 0 && Number(own) === 0 ? `<${fixed(10 ** -decimals, decimals)}` : own;
  const after = gap(unit.unit) + unit.unit;
  return `${fixed(value / unit.inSi, decimals)}${after} ±${shown}${after}`;
};

/** An angle in radian as degrees and minutes to a tenth: "−1° 20.0′". */
export const degreesMinutesText = (angle: number): string => {
  const tenths = Math.round((Math.abs(angle) * 180 * 600) / Math.PI);
  const sign = angle < 0 && tenths !== 0 ? fixed(-1, 0).slice(0, 1) : '';
  return `${sign}${Math.floor(tenths / 600)}°${HARD_SPACE}${fixed((tenths % 600) / 10, 1)}′`;
};
