import { UNITS, unitOf, type QuantityKind } from '../format/unitTable.ts';

/** A unit that was probably meant where another was taken. */
export interface MixUp {
  /** The value in SI if it was so. */
  readonly meant: number;
  /** A question for the screen: "Is it lb in a field of kg?" */
  readonly words: string;
}

/** How near to a whole unit's factor a ratio must be. The factors lie at least 2.2 apart. */
const NEAR = 0.06;

/** SI units that no field has. */
const SI_ALONE: Readonly<Partial<Record<QuantityKind, string>>> = {
  share: 'fractions of one',
  pressure: 'Pa',
};

/** The SI unit of a kind, as a file has it. */
export const siName = (kind: QuantityKind): string =>
  SI_ALONE[kind] ?? UNITS[kind].find((each) => each.inSi === 1)?.unit ?? 'SI';

/**
 * Looks for a wrong unit in a value that is not what it should be: by its ratio to what is expected,
 * or, where nothing is, by the units that would make an impossible value possible. Values in SI;
 * `field` is the unit of the field it was typed into, null for a file, which has SI. Null where no unit
 * explains it. Nothing is corrected, only asked.
 */
export const mixedUp = (
  value: number,
  about: {
    readonly kind: QuantityKind;
    readonly field: string | null;
    readonly expected: number | null;
    readonly possible: readonly [number, number];
  },
): MixUp | null => {
  const { kind, expected, possible } = about;
  const field = about.field === null ? null : unitOf(kind, about.field);
  const inSi = field?.inSi ?? 1;
  const name = field?.unit ?? siName(kind);
  const others = UNITS[kind].filter((each) => each.inSi !== inSi);
  const near = (meant: number): boolean =>
    expected !== null && expected !== 0 && Math.abs(meant / expected - 1) < NEAR;

  if (expected !== null && expected !== 0) {
    if (value === 0 || near(value)) return null;
    for (const other of others) {
      const typed = (value * other.inSi) / inSi;
      if (near(typed)) return { meant: typed, words: `Is it ${other.unit} in a field of ${name}?` };
      const converted = (value * inSi) / other.inSi;
      if (field === null && near(converted))
        return { meant: converted, words: `Is it ${name} taken as ${other.unit}?` };
    }
    return null;
  }
  const [least, most] = possible;
  if (value >= least && value <= most) return null;
  const fitting = others
    .map(({ unit, inSi: each }) => ({ unit, meant: (value * each) / inSi }))
    .filter(({ meant }) => meant >= least && meant <= most);
  const [first] = fitting;
  if (!first) return null;
  const names = fitting.map(({ unit }) => unit).join(' or ');
  return { meant: first.meant, words: `Is it ${names} in a field of ${name}?` };
};
