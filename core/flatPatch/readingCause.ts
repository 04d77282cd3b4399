import type { FindingCode, Instrument } from './levelSurvey.ts';

/** How a reading can be wrong so that it is known what it should have been. */
export interface ReadingCause {
  readonly code: Extract<FindingCode, 'wrong unit' | 'upside down'>;
  readonly words: string;
  /** What was taken for the reading, made right. */
  readonly right: (reading: number) => number;
}

const FACTORS: readonly (readonly [number, string])[] = [
  [25.4, 'inches typed as millimetres'],
  [1 / 25.4, 'millimetres typed as inches'],
  [2.54, 'inches typed as centimetres'],
  [1 / 2.54, 'centimetres typed as inches'],
  [10, 'centimetres typed as millimetres'],
  [0.1, 'millimetres typed as centimetres'],
  [1000, 'metres typed as millimetres'],
  [0.001, 'millimetres typed as metres'],
  [100, 'metres typed as centimetres'],
  [0.01, 'centimetres typed as metres'],
];

/** Every cause that this instrument allows; 25.4 mm to the inch is exact. */
export const readingCauses = (instrument: Instrument): readonly ReadingCause[] => {
  const length = instrument.staffLength;
  return [
    ...FACTORS.map(([factor, words]) => ({
      code: 'wrong unit' as const,
      words,
      right: (reading: number) => reading * factor,
    })),
    ...(instrument.reads === 'staff' && length !== null
      ? [
          {
            code: 'upside down' as const,
            words: 'the staff stood upside down',
            right: (reading: number) => length - reading,
          },
        ]
      : []),
  ];
};

/**
 * The cause that makes a reading what it was expected to be, to within `within` metre and a fiftieth
 * of its error; null where none does.
 */
export const causeOf = (
  instrument: Instrument,
  reading: number,
  about: { readonly expected: number; readonly within: number },
): ReadingCause | null => {
  const error = Math.abs(reading - about.expected);
  const misses = readingCauses(instrument)
    .map((cause) => ({ cause, miss: Math.abs(cause.right(reading) - about.expected) }))
    .toSorted((a, b) => a.miss - b.miss);
  const best = misses[0];
  return best && best.miss <= Math.max(about.within, error / 50) && best.miss < error / 4
    ? best.cause
    : null;
};
