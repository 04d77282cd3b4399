import type { Measured } from '../measured.ts';
import { KILOGRAM_PER_POUND } from '../units.ts';

/** A reading that was just typed, in SI, and what there is to hold it against. */
export interface FieldReading {
  readonly quantity: 'length' | 'angle' | 'mass' | 'other';
  readonly reading: Measured;
  /** Half width of the tolerance; null where the item has no target. */
  readonly target: { readonly value: number; readonly tolerance: number } | null;
  /** The last reading of the item in a comparable state; null where there is none. */
  readonly last: Measured | null;
}

export interface FieldQuestion {
  readonly farFrom: 'its target' | 'its last reading';
  /** Reading less target, or less last reading. */
  readonly difference: number;
  /** Half width of what is not questioned. */
  readonly limit: number;
  /** A slip that would bring the reading home, and what it would then be; null where none does. */
  readonly slip: { readonly is: string; readonly meant: number } | null;
  /** For beside the field; the number is left to the screen and its units. */
  readonly words: string;
}

/**
 * Beyond four standard uncertainties lies one sound reading in 16,000: a walk of forty fields asks
 * without cause once in four hundred walks.
 */
const COVERAGE = 4;
/**
 * A car being set up starts within a few tolerances of its target. The least of the slips below, pounds
 * for kilograms, moves a reading by half of it: with this limit it is asked about wherever the target is
 * ten tolerances or more from zero. Common practice, no source.
 */
const TOLERANCES = 5;

const INCH_IN_MILLIMETRES = 25.4;
const MINUTES_IN_A_DEGREE = 60;

interface Slip {
  readonly is: string;
  /** What was meant, over what was understood. */
  readonly factor: number;
}

const ANY: readonly Slip[] = [
  { is: 'the sign', factor: -1 },
  { is: 'the decimal point', factor: 10 },
  { is: 'the decimal point', factor: 0.1 },
];

const SLIPS: Readonly<Record<FieldReading['quantity'], readonly Slip[]>> = {
  length: [
    { is: 'inches taken for millimetres', factor: INCH_IN_MILLIMETRES },
    { is: 'millimetres taken for inches', factor: 1 / INCH_IN_MILLIMETRES },
    ...ANY,
  ],
  angle: [
    { is: 'minutes of arc taken for degrees', factor: 1 / MINUTES_IN_A_DEGREE },
    { is: 'degrees taken for minutes of arc', factor: MINUTES_IN_A_DEGREE },
    ...ANY,
  ],
  mass: [
    { is: 'pounds taken for kilograms', factor: KILOGRAM_PER_POUND },
    { is: 'kilograms taken for pounds', factor: 1 / KILOGRAM_PER_POUND },
    ...ANY,
  ],
  other: ANY,
};

/**
 * Whether a reading is to be questioned beside its field, never by a dialog: it is kept in any case.
 * Within its tolerance it is not; with a target it is beyond five tolerances; against the last reading,
 * beyond one tolerance (nobody acts on less) and four standard uncertainties of the difference. The last
 * reading is asked about first: it is the same car's. A slip is named only where the one factor brings
 * the reading within the limit and the limit leaves zero out, for near zero any shrinking would.
 */
export const fieldQuestion = (field: FieldReading): FieldQuestion | null => {
  const { reading, target, last, quantity } = field;
  if (target && Math.abs(reading.value - target.value) <= target.tolerance) return null;
  const references = [
    ...(last
      ? [
          {
            farFrom: 'its last reading' as const,
            value: last.value,
            limit: Math.max(COVERAGE * Math.hypot(reading.u, last.u), target?.tolerance ?? 0),
          },
        ]
      : []),
    ...(target
      ? [
          {
            farFrom: 'its target' as const,
            value: target.value,
            limit: Math.max(COVERAGE * reading.u, TOLERANCES * target.tolerance),
          },
        ]
      : []),
  ];
  const far = references.find(({ value, limit }) => Math.abs(reading.value - value) > limit);
  if (!far) return null;
  // A slip may fit the target alone, where the item was set anew since the last reading.
  const slip = references
    .filter(({ value, limit }) => Math.abs(value) > limit)
    .flatMap(({ value, limit }) =>
      SLIPS[quantity].map(({ is, factor }) => {
        const meant = reading.value * factor;
        return { is, meant, off: Math.abs(meant - value) / limit };
      }),
    )
    .filter(({ off }) => off <= 1)
    .toSorted((a, b) => a.off - b.off)[0];
  return {
    farFrom: far.farFrom,
    difference: reading.value - far.value,
    limit: far.limit,
    slip: slip ? { is: slip.is, meant: slip.meant } : null,
    words: `Far from ${far.farFrom}. ${
      slip ? `Is it ${slip.is}?` : 'Read again: both readings are kept.'
    }`,
  };
};
