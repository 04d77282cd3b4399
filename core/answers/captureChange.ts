import type { Capture } from '../contract/records.ts';
import type { Settings } from '../contract/settings.ts';
import { perCorner, type PerCorner } from '../corners.ts';
import { inWords, massShown } from '../format/quantity.ts';
import { measured, type Measured } from '../measured.ts';

/** What is different between two captures: later less earlier, kg and fractions. */
export interface CaptureChange {
  readonly earlier: Capture;
  readonly corners: PerCorner<Measured>;
  readonly total: Measured;
  readonly frontShare: Measured;
  readonly leftShare: Measured;
  /** Null when the two name different diagonals: those are not compared. */
  readonly crossShare: Measured | null;
}

/**
 * Later less earlier, the two taken as independent (JCGM 100:2008, 5.1.2): u² = u₁² + u₂². A zero
 * that both share cancels in truth, so this is on the wide side. Degrees of freedom by
 * Welch–Satterthwaite (G.4.1).
 */
const less = (later: Measured, earlier: Measured): Measured => {
  const u = Math.hypot(later.u, earlier.u);
  const spread = later.u ** 4 / later.dof + earlier.u ** 4 / earlier.dof;
  return measured(later.value - earlier.value, u, spread > 0 ? u ** 4 / spread : Infinity);
};

/** The capture before this one that was not set aside; `newestFirst` is the log of an outing. */
export const captureBefore = (capture: Capture, newestFirst: readonly Capture[]): Capture | null =>
  newestFirst.find((other) => !other.setAside && other.number < capture.number) ?? null;

/** The change of a capture against an earlier one. */
export const captureChange = (later: Capture, earlier: Capture): CaptureChange => ({
  earlier,
  corners: perCorner((corner) => less(later.corners[corner].mass, earlier.corners[corner].mass)),
  total: less(later.balance.total, earlier.balance.total),
  frontShare: less(later.balance.frontShare, earlier.balance.frontShare),
  leftShare: less(later.balance.leftShare, earlier.balance.leftShare),
  crossShare:
    later.balance.cross === earlier.balance.cross
      ? less(later.balance.crossShare, earlier.balance.crossShare)
      : null,
});

/** Stands among the notes of a capture that was taken while the car still moved. */
export const EARLY_NOTE =
  'Provisional: taken while the car still moved, by where it was going to settle.';

/** The largest shift of a zero found after raising, kg, without its sign; null while none was read. */
const worstShift = ({ zeroShift }: Capture): number | null => {
  const read = Object.values(zeroShift ?? {}).filter((shift) => shift !== null);
  return read.length === 0 ? null : Math.max(...read.map(Math.abs));
};

/** What must be known beside a capture's numbers, each in a few words. */
export const captureMarks = (
  capture: Capture,
  { massUnit, zeroShiftLimit }: Pick<Settings, 'massUnit' | 'zeroShiftLimit'>,
): readonly string[] => {
  const shift = worstShift(capture);
  const corners = Object.values(capture.corners);
  const spikes = corners.reduce((sum, { spikes: own }) => sum + own, 0);
  const isEarly = capture.carStateNotes.includes(EARLY_NOTE);
  const notes = capture.carStateNotes.length - (isEarly ? 1 : 0);
  return [
    capture.practice ? 'practice' : '',
    isEarly ? 'provisional' : '',
    corners.some(({ calibrated }) => !calibrated) ? 'not calibrated' : '',
    notes > 0 ? `${notes} state note${notes === 1 ? '' : 's'}` : '',
    spikes > 0 ? `${spikes} spike${spikes === 1 ? '' : 's'} left out` : '',
    shift === null
      ? ''
      : shift > zeroShiftLimit
        ? `zero moved by ${inWords(massShown(massUnit, shift, { decimals: 2 }))}`
        : 'zero checked',
    capture.setAside ? 'set aside' : '',
  ].filter(Boolean);
};
