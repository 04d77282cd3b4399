import { CORNERS, CORNER_NAMES, perCorner, type Corner, type PerCorner } from '../corners.ts';
import type { Car } from '../sheet/car.ts';
import { refused, type AdjustRefusal } from './refusal.ts';

/**
 * What is turned at a corner to raise or lower the body there: a spring perch, a push-rod whose two
 * threads add, or a pack of shims. Up raises the body. Third springs are left out: they carry an
 * axle's heave and no corner by itself.
 */
export interface Adjuster {
  readonly corner: Corner;
  readonly kind: 'perch' | 'push-rod' | 'shims';
  /**
   * Metre of travel per turn of each thread, all added (a push-rod with a left and a right-hand
   * thread has two). For shims one entry, the thickness of one, and a "turn" is a shim.
   */
  readonly pitches: readonly number[];
  /** Travel where the adjuster is, over wheel travel; null while nobody measured it. */
  readonly motionRatio: number | null;
  /** Steps that one turn has: 1 whole turns, 2, 4, 6 hex flats, clicks; 1 for shims. */
  readonly stepsPerTurn: number;
  /** How the crew counts: parts of a turn, or the steps by their name. */
  readonly countedIn: 'turns' | 'flats' | 'clicks' | 'shims';
  /** Whether it can be turned while the car stands on the pads; else the car is raised for it. */
  readonly underLoad: boolean;
  /** Whole steps left in each direction; null where nobody said, which is no limit. */
  readonly room: { readonly up: number; readonly down: number } | null;
}

/** One adjuster a corner at most; null where a corner has none. */
export type Adjusters = PerCorner<Adjuster | null>;

/** The same adjuster at all four corners, with pitch and motion ratios of the car's data. */
export const perchesOf = (
  car: Car,
  of: Pick<Adjuster, 'stepsPerTurn' | 'countedIn' | 'underLoad'>,
): Adjusters =>
  perCorner((corner) => ({
    ...of,
    corner,
    kind: 'perch',
    pitches: [car.perchPitch],
    motionRatio: car.motionRatios[corner],
    room: null,
  }));

const isPositive = (value: number): boolean => value > 0 && value < Infinity;
const isCount = (value: number): boolean => Number.isInteger(value) && value >= 0;

const wrongWith = (adjuster: Adjuster): AdjustRefusal | null => {
  const where = CORNER_NAMES[adjuster.corner];
  if (adjuster.pitches.length === 0 || !adjuster.pitches.every(isPositive))
    return refused(
      'no pitch',
      `The ${adjuster.kind === 'shims' ? 'shim thickness' : 'thread pitch'} of the ${where} is missing or not above zero. Measure it and enter it with the car.`,
    );
  if (adjuster.motionRatio === null || !isPositive(adjuster.motionRatio))
    return refused(
      'no motion ratio',
      `The motion ratio of the ${where} is missing or not above zero. Enter adjuster travel over wheel travel with the car.`,
    );
  if (!isCount(adjuster.stepsPerTurn) || adjuster.stepsPerTurn === 0)
    return refused(
      'no steps',
      `How finely the ${where} can be turned is missing. Enter the steps in one turn: 1, 2, 4, 6 or its clicks.`,
    );
  const { room } = adjuster;
  if (room && !(isCount(room.up) && isCount(room.down)))
    return refused(
      'no steps',
      `The steps left at the ${where} are not whole numbers from zero up. Count them again.`,
    );
  return null;
};

/** The first thing that is wrong with the adjusters, in words; null where they can be used. */
export const checkAdjusters = (adjusters: Adjusters): AdjustRefusal | null => {
  for (const corner of CORNERS) {
    const adjuster = adjusters[corner];
    if (!adjuster) continue;
    if (adjuster.corner !== corner) throw new RangeError(`${adjuster.corner} stands at ${corner}`);
    const wrong = wrongWith(adjuster);
    if (wrong) return wrong;
  }
  if (CORNERS.every((corner) => !adjusters[corner]))
    return refused('no adjusters', 'No corner has an adjuster. Enter one with the car.');
  return null;
};

/**
 * Metre that the seat rises at the wheel per turn, Σ pitch / motion ratio; for adjusters that
 * passed `checkAdjusters`. Throws RangeError otherwise.
 */
export const seatPerTurn = (adjuster: Adjuster): number => {
  const wrong = wrongWith(adjuster);
  if (wrong || adjuster.motionRatio === null) throw new RangeError(wrong?.why ?? 'no motion ratio');
  return adjuster.pitches.reduce((sum, pitch) => sum + pitch, 0) / adjuster.motionRatio;
};
