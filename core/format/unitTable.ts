import { KILOGRAM_PER_POUND, STANDARD_GRAVITY } from '../units.ts';

/**
 * The units in which people read and type each kind of quantity, with their size in SI. The first of
 * a kind is the one a crew has that chose nothing.
 */

export const QUANTITY_KINDS = [
  'mass',
  'length',
  'angle',
  'share',
  'turns',
  'clicks',
  'pressure',
  'volume',
  'density',
  'rate',
  'torsion',
  'number',
] as const;
export type QuantityKind = (typeof QUANTITY_KINDS)[number];

export interface Unit {
  /** As it is shown. */
  readonly unit: string;
  /** One of it in SI; a share is a fraction of one, turns and clicks count themselves. */
  readonly inSi: number;
  /** In words, for questions about a unit. */
  readonly words: string;
  /** What people type for it, in lower case, the shown form among them. */
  readonly typed: readonly string[];
  /** Decimals where no uncertainty says how many; common practice, no source. */
  readonly decimals: number;
}

/** Exact: international inch, NIST SP 811 appendix B.8. */
const INCH = 0.0254;
const POUND_FORCE = KILOGRAM_PER_POUND * STANDARD_GRAVITY;
const DEGREE = Math.PI / 180;
/** Exact: US liquid gallon of 231 cubic inches, NIST SP 811 appendix B.8. */
const US_GALLON = 231 * INCH ** 3;

const unit = (
  shown: string,
  inSi: number,
  about: { readonly words: string; readonly decimals: number; readonly typed?: readonly string[] },
): Unit => ({
  unit: shown,
  inSi,
  words: about.words,
  decimals: about.decimals,
  typed: [shown.toLowerCase(), ...(about.typed ?? [])],
});

export const UNITS: Readonly<Record<QuantityKind, readonly Unit[]>> = {
  mass: [
    unit('kg', 1, { words: 'kilogram', decimals: 1 }),
    unit('lb', KILOGRAM_PER_POUND, { words: 'pound', decimals: 1, typed: ['lbs'] }),
    unit('g', 1e-3, { words: 'gram', decimals: 0 }),
  ],
  length: [
    unit('mm', 1e-3, { words: 'millimetre', decimals: 1 }),
    unit('in', INCH, { words: 'inch', decimals: 3, typed: ['"', 'inch', 'inches'] }),
    unit('cm', 1e-2, { words: 'centimetre', decimals: 2 }),
    unit('m', 1, { words: 'metre', decimals: 4 }),
  ],
  angle: [
    unit('°', DEGREE, { words: 'degree', decimals: 2, typed: ['deg', 'degree', 'degrees'] }),
    unit('′', DEGREE / 60, { words: 'minute', decimals: 1, typed: ["'", 'min', 'minutes'] }),
    unit('rad', 1, { words: 'radian', decimals: 4 }),
  ],
  share: [unit('%', 1e-2, { words: 'percent', decimals: 1, typed: ['percent'] })],
  turns: [unit('turns', 1, { words: 'turn', decimals: 2, typed: ['turn'] })],
  clicks: [unit('clicks', 1, { words: 'click', decimals: 0, typed: ['click'] })],
  pressure: [
    unit('bar', 1e5, { words: 'bar', decimals: 2 }),
    unit('kPa', 1e3, { words: 'kilopascal', decimals: 0 }),
    unit('psi', POUND_FORCE / INCH ** 2, { words: 'pound per square inch', decimals: 1 }),
  ],
  volume: [
    unit('l', 1e-3, { words: 'litre', decimals: 1, typed: ['litre', 'litres', 'liter', 'liters'] }),
    unit('US gal', US_GALLON, { words: 'US gallon', decimals: 2 }),
    unit('m³', 1, { words: 'cubic metre', decimals: 4, typed: ['m3'] }),
  ],
  density: [
    unit('kg/l', 1e3, { words: 'kilogram per litre', decimals: 3 }),
    unit('kg/m³', 1, { words: 'kilogram per cubic metre', decimals: 0, typed: ['kg/m3'] }),
  ],
  rate: [
    unit('N/mm', 1e3, { words: 'newton per millimetre', decimals: 1 }),
    unit('lb/in', POUND_FORCE / INCH, {
      words: 'pound per inch',
      decimals: 0,
      typed: ['lbs/in', 'lbf/in'],
    }),
    unit('N/m', 1, { words: 'newton per metre', decimals: 0 }),
  ],
  torsion: [
    unit('Nm/°', 1 / DEGREE, { words: 'newton metre per degree', decimals: 0, typed: ['nm/deg'] }),
    unit('kNm/°', 1e3 / DEGREE, {
      words: 'kilonewton metre per degree',
      decimals: 2,
      typed: ['knm/deg'],
    }),
    unit('Nm/rad', 1, { words: 'newton metre per radian', decimals: 0 }),
  ],
  number: [unit('', 1, { words: 'number', decimals: 3 })],
};

/** The unit of a kind by the name it is shown with; null where the kind has none of that name. */
export const unitOf = (kind: QuantityKind, shown: string): Unit | null =>
  UNITS[kind].find((each) => each.unit === shown) ?? null;

/** The unit of a kind for a crew that chose nothing. */
export const firstUnit = (kind: QuantityKind): Unit => UNITS[kind][0] as Unit;
