import type { CalibrationInput } from '../../../core/calibration/calibrate.ts';
import type { TakenPoint } from '../../../core/contract/calibrationRecord.ts';
import { measured } from '../../../core/measured.ts';
import type { MassSet, ReferenceMass } from '../../../core/sheet/massSet.ts';
import { createRandom } from '../../../drivers/pads/rig/random.ts';

/** A pad as its counts would come out, for calibrations whose truth is known. */

export const GRAVITY = 9.81;
export const RATING = { ratedLoad: 500, countsAtRatedLoad: 4_194_304 };
/** Counts per newton by the rating, exactly as the pad under test has it. */
export const SLOPE = RATING.countsAtRatedLoad / (RATING.ratedLoad * 9.80665);

export interface Pad {
  readonly seed: number;
  /** Scatter of one placing, kg. */
  readonly scatter: number;
  /** Departure from a straight line at half the rated load, kg. */
  readonly bend: number;
  /** Falling reads this much more at half the rated load, kg. */
  readonly hysteresis: number;
  /** The pad's own span over its rating. */
  readonly span: number;
  readonly zero: number;
}

export const SOUND: Pad = {
  seed: 1,
  scatter: 0.01,
  bend: 0,
  hysteresis: 0,
  span: 1.0004,
  zero: 21_000,
};

/** True counts over zero at a mass in kg, scatter and zero left out. */
export const countsOver = ({ span, bend, hysteresis }: Pad, mass: number, down = false): number => {
  const share = mass / RATING.ratedLoad;
  const loop = 4 * share * (1 - share);
  return SLOPE * GRAVITY * (span * mass + bend * loop + (down ? hysteresis * loop : 0));
};

export const twenties = (
  count: number,
  basis: ReferenceMass['basis'] = { is: 'class', class: 'M1' },
): MassSet => ({
  id: 'set',
  name: 'Twenties',
  masses: Array.from({ length: count }, (_, index) => ({
    id: `m${index + 1}`,
    label: `20 kg no. ${index + 1}`,
    nominal: { value: 20, unit: 'kg' },
    basis,
  })),
});

/** One row of placings: how many of the masses stand on the pad, in order. */
export const UP_AND_DOWN: readonly number[] = [0, 3, 6, 9, 12, 15, 12, 9, 6, 3, 0];

/** Points of a pad under so many of the masses, each of them truly 20 kg, in this order. */
export const take = (pad: Pad, plan: readonly number[]): TakenPoint[] => {
  const random = createRandom(pad.seed);
  return plan.map((count, index) => {
    const before = plan[index - 1] ?? 0;
    const counts =
      pad.zero +
      countsOver(pad, 20 * count, count < before) +
      pad.scatter * SLOPE * GRAVITY * random.normal();
    return {
      number: index + 1,
      padSerial: 'P-1',
      at: 60 * index,
      massIds: Array.from({ length: count }, (_, each) => `m${each + 1}`),
      reference: null,
      counts: measured(counts, 5, 40),
      flags: 0,
      temperature: 21,
      placedAnew: true,
      risenElsewhere: null,
      undone: false,
    };
  });
};

export const input = (points: readonly TakenPoint[], masses: MassSet = twenties(15)) =>
  ({
    id: 'c1',
    replaces: null,
    padSerial: 'P-1',
    madeAt: 1_700_000_000_000,
    practice: false,
    place: { venueId: null, name: 'Larkfell', gravity: GRAVITY },
    rating: RATING,
    masses,
    reference: null,
    points,
    against: {
      is: 'class',
      accuracy: 'III',
      interval: 0.1,
      when: 'first verification',
    },
  }) satisfies CalibrationInput;
