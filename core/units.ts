/**
 * Units. Inside Millpond everything is SI; a number that carries a unit is branded here, by one
 * helper, which refuses what is not finite. Pounds and inches exist only in the conversions below.
 */

declare const unit: unique symbol;

/** A finite number of the unit `U`. Arithmetic on it gives a plain number again: brand the result. */
export type Quantity<U extends string> = number & { readonly [unit]: U };

export type Newton = Quantity<'N'>;
export type Kilogram = Quantity<'kg'>;
export type Metre = Quantity<'m'>;
/** Seconds of the host's monotonic clock, or a duration of it. Never wall-clock time. */
export type Second = Quantity<'s'>;
export type MetrePerSecond2 = Quantity<'m/s²'>;

const brand =
  <U extends string>(name: U) =>
  (value: number): Quantity<U> => {
    if (!Number.isFinite(value)) throw new RangeError(`not a finite number of ${name}: ${value}`);
    return value as Quantity<U>;
  };

/** Brands a finite force in newton. Throws RangeError on NaN or infinity, as do its siblings. */
export const newton = brand('N');
/** Brands a finite mass in kilogram. */
export const kilogram = brand('kg');
/** Brands a finite length in metre. */
export const metre = brand('m');
/** Brands a finite time or duration in seconds. */
export const second = brand('s');
/** Brands a finite acceleration in m/s². */
export const metrePerSecond2 = brand('m/s²');

/** Standard gravity, exact by definition: 3rd CGPM (1901). */
export const STANDARD_GRAVITY = metrePerSecond2(9.80665);

/** Exact: international avoirdupois pound, NIST SP 811 appendix B.8. */
export const KILOGRAM_PER_POUND = 0.45359237;

export const MASS_UNITS = ['kg', 'lb'] as const;
/** The units in which a mass may be shown or typed. */
export type MassUnit = (typeof MASS_UNITS)[number];

/** A mass in kilogram as a number of the unit shown. */
export const massIn = (unitShown: MassUnit, mass: number): number =>
  unitShown === 'kg' ? mass : mass / KILOGRAM_PER_POUND;

/** A number typed in the given unit as a mass. Throws RangeError when it is not finite. */
export const massFrom = (unitTyped: MassUnit, value: number): Kilogram =>
  kilogram(unitTyped === 'kg' ? value : value * KILOGRAM_PER_POUND);
