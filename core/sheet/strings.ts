import type { StringSquareness } from '../alignment/stringSkew.ts';
import type { Measured } from '../measured.ts';
import type { CarRecord, Reading } from './carRecord.ts';

/** The strings beside the car as they are typed, metre: how they were squared and what was left. */
export interface Strings {
  readonly to: StringSquareness['to'];
  readonly frontLeft: number;
  readonly frontRight: number;
  readonly rearLeft: number;
  readonly rearRight: number;
  /** Along the car: between the places where it was squared, or between the bars. */
  readonly apart: number;
  /** Only squared to hubs: between the hubs, and between the strings at both bars. */
  readonly wheelbase: number | null;
  readonly spacingFront: number | null;
  readonly spacingRear: number | null;
}

/** What each number is called in a reading that was made with the strings. */
const PARTS = [
  ['frontLeft', 'string at the front left'],
  ['frontRight', 'string at the front right'],
  ['rearLeft', 'string at the rear left'],
  ['rearRight', 'string at the rear right'],
  ['apart', 'along the car between them'],
  ['wheelbase', 'wheelbase of the hubs'],
  ['spacingFront', 'between the strings at the front bar'],
  ['spacingRear', 'between the strings at the rear bar'],
] as const satisfies readonly (readonly [Exclude<keyof Strings, 'to'>, string])[];

export const STRING_WORDS: Readonly<Record<Exclude<keyof Strings, 'to'>, string>> =
  Object.fromEntries(PARTS) as Record<Exclude<keyof Strings, 'to'>, string>;

/** The strings as parts of a reading, so that it can be computed again. */
export const stringParts = (strings: Strings): Reading['of'] =>
  PARTS.flatMap(([key, what]) => {
    const value = strings[key];
    return value === null ? [] : [{ what, value }];
  });

/** The strings that a reading was made with; null where it was not. */
export const stringsIn = ({ of }: Pick<Reading, 'of'>): Strings | null => {
  const at = (key: Exclude<keyof Strings, 'to'>): number | null =>
    of.find(({ what }) => what === STRING_WORDS[key])?.value ?? null;
  const [frontLeft, frontRight, rearLeft, rearRight, apart] = [
    at('frontLeft'),
    at('frontRight'),
    at('rearLeft'),
    at('rearRight'),
    at('apart'),
  ];
  if (
    frontLeft === null ||
    frontRight === null ||
    rearLeft === null ||
    rearRight === null ||
    apart === null
  )
    return null;
  const wheelbase = at('wheelbase');
  return {
    to: wheelbase === null ? 'chassis' : 'hubs',
    frontLeft,
    frontRight,
    rearLeft,
    rearRight,
    apart,
    wheelbase,
    spacingFront: at('spacingFront'),
    spacingRear: at('spacingRear'),
  };
};

/** The strings of the newest reading of a record that was made with any. */
export const stringsOf = ({ entries }: CarRecord): Strings | null =>
  entries.reduce<Strings | null>(
    (found, entry) => (entry.is === 'reading' ? (stringsIn(entry) ?? found) : found),
    null,
  );

/** The strings with the uncertainty of what they were read with; null where a number is missing. */
export const squarenessOf = (
  strings: Strings,
  read: (value: number) => Measured,
): StringSquareness | null => {
  const sides = {
    front: { left: read(strings.frontLeft), right: read(strings.frontRight) },
    rear: { left: read(strings.rearLeft), right: read(strings.rearRight) },
    apart: read(strings.apart),
  };
  if (strings.to === 'chassis') return { to: 'chassis', ...sides };
  const { wheelbase, spacingFront, spacingRear } = strings;
  if (wheelbase === null || spacingFront === null || spacingRear === null) return null;
  return {
    to: 'hubs',
    ...sides,
    wheelbase: read(wheelbase),
    spacing: { front: read(spacingFront), rear: read(spacingRear) },
  };
};
