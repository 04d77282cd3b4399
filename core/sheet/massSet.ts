import { z } from 'zod';
import { MASS_UNITS } from '../units.ts';

/** Reference masses owned together: what stands on them, and what is known of each. */

/** Accuracy classes of OIML R 111-1:2004 whose weights are found at pads, finest first. */
export const MASS_CLASSES = ['E1', 'E2', 'F1', 'F2', 'M1', 'M2', 'M3'] as const;
export type MassClass = (typeof MASS_CLASSES)[number];

const positive = z.number().positive().finite();

/** What is known of a mass beyond the number on it. Masses in kg. */
const basisSchema = z.discriminatedUnion('is', [
  /** Its class: within the error limits of OIML R 111-1, table 1. */
  z.strictObject({ is: z.literal('class'), class: z.enum(MASS_CLASSES) }),
  /** Its certificate: conventional mass and expanded uncertainty with its coverage factor. */
  z.strictObject({
    is: z.literal('certificate'),
    value: positive,
    expanded: z.number().nonnegative().finite(),
    coverageFactor: positive,
  }),
  /** Its maker's tolerance, either way. */
  z.strictObject({ is: z.literal('tolerance'), halfWidth: positive }),
  /** Nothing but the number on it: then its uncertainty is not known. */
  z.strictObject({ is: z.literal('number only') }),
]);
export type MassBasis = z.infer<typeof basisSchema>;

const referenceMassSchema = z.strictObject({
  id: z.string().min(1),
  /** What people call it: "20 kg A". */
  label: z.string().trim().min(1).max(40),
  /** The number on it, in the unit in which it was typed: kept, so that a wrong unit can be found. */
  nominal: z.strictObject({ value: positive, unit: z.enum(MASS_UNITS) }),
  basis: basisSchema,
});
export type ReferenceMass = z.infer<typeof referenceMassSchema>;

export const massSetSchema = z
  .strictObject({
    id: z.string().min(1),
    name: z.string().trim().min(1).max(80),
    masses: z.array(referenceMassSchema).min(1).max(200),
  })
  .refine(({ masses }) => new Set(masses.map(({ id }) => id)).size === masses.length, {
    message: 'two masses have the same id',
  });
export type MassSet = z.infer<typeof massSetSchema>;

const EXAMPLE_MASSES: readonly (readonly [number, string])[] = [
  ...['A', 'B', 'C', 'D', 'E', 'F', 'G', 'H', 'I', 'J'].map((letter) => [20, letter] as const),
  [10, 'A'],
  [10, 'B'],
  [5, 'A'],
];

/** The invented masses of the practice rig: 225 kg in all. */
export const EXAMPLE_MASS_SET: MassSet = {
  id: '0190a0c0-0000-7000-8000-000000000201',
  name: 'Practice masses, M1',
  masses: EXAMPLE_MASSES.map(([value, letter]) => ({
    id: `${value}${letter}`,
    label: `${value} kg ${letter}`,
    nominal: { value, unit: 'kg' },
    basis: { is: 'class', class: 'M1' },
  })),
};
