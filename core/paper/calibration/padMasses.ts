import { decimalsFor } from '../../format/decimals.ts';
import { fixed } from '../../format/number.ts';
import { curveOf } from '../../calibration/useRecord.ts';
import { slopeAt, type Curve } from '../../calibration/polynomialFit.ts';
import type { CalibrationRecord } from '../../contract/calibrationRecord.ts';

/** Forces of a record as masses where it was made, and how fine they are written. */
export interface PadMasses {
  readonly curve: Curve | null;
  /** Force, newton, as a mass, kg, at the place of the record. */
  toMass(force: number): number;
  /** Scatter of the fit as a mass, kg; null without a fit. */
  readonly scatter: number | null;
  /** A mass in kg, as fine as the scatter supports. */
  written(mass: number): string;
}

/** Grams while there is no scatter to say; common practice, no source. */
const DECIMALS_WITHOUT_FIT = 3;
const MOST_DECIMALS = 4;

export const padMasses = (record: CalibrationRecord): PadMasses => {
  const { gravity } = record.place;
  const curve = curveOf(record);
  const scatter =
    curve && record.fit
      ? curve.residualSd / Math.abs(slopeAt(curve, record.fit.top / 2)) / gravity
      : null;
  const decimals =
    scatter === null || !(scatter > 0)
      ? DECIMALS_WITHOUT_FIT
      : Math.max(2, decimalsFor(scatter, MOST_DECIMALS));
  return {
    curve,
    toMass: (force) => force / gravity,
    scatter,
    written: (mass) => fixed(mass, decimals),
  };
};
