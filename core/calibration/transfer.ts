import type { CalibrationRecord } from '../contract/calibrationRecord.ts';
import { measured, type Measured } from '../measured.ts';
import { effectiveDof } from '../uncertainty/combine.ts';
import { forcePerCount, toForce, type Calibration } from './calibration.ts';

/**
 * Calibration against a pad in series: two pads stacked, so that one and the same force goes through
 * both, however it is made (a car's corner, a jack under a beam, ballast of unknown mass). Both take
 * their zero stacked, so that the upper pad's own weight is in neither. Gravity is not in it: the
 * reference pad says newtons.
 */
export type TransferReference =
  | { readonly ok: true; readonly reference: NonNullable<CalibrationRecord['reference']> }
  | { readonly ok: false; readonly why: string; readonly next: string };

/** Whether a pad can be the reference of another, and what its span is uncertain by. */
export const transferReference = (pad: {
  readonly serial: string;
  readonly calibration: Calibration;
  /** The pad that is to be calibrated. */
  readonly of: string;
}): TransferReference => {
  const { serial, calibration } = pad;
  if (serial === pad.of)
    return {
      ok: false,
      why: 'A pad cannot be calibrated against itself.',
      next: 'Choose another pad.',
    };
  if (!calibration.calibrated || calibration.id === null)
    return {
      ok: false,
      why: `${serial} is not calibrated: its span is only the maker's rating.`,
      next: 'Calibrate it with masses first, or choose another pad.',
    };
  if (calibration.inSpiteOf !== undefined)
    return {
      ok: false,
      why: `${serial} is used in spite of what was found against its calibration.`,
      next: 'Choose a pad with a sound calibration: its faults would be handed on.',
    };
  return {
    ok: true,
    reference: {
      padSerial: serial,
      calibrationId: calibration.id,
      uRelative: calibration.uRelative,
    },
  };
};

/**
 * Force by the reference pad, newton, from its mean counts and those of its zero: with the scatter of
 * both and no more. The uncertainty of its span is common to all points and belongs to the record.
 */
export const referenceForce = (
  calibration: Calibration,
  zero: Measured,
  counts: Measured,
): Measured => {
  const parts = [
    {
      u: Math.abs(forcePerCount(calibration, zero.value, counts.value)) * counts.u,
      dof: counts.dof,
    },
    { u: Math.abs(forcePerCount(calibration, zero.value, zero.value)) * zero.u, dof: zero.dof },
  ];
  return measured(
    toForce(calibration, zero.value, counts.value),
    Math.hypot(...parts.map(({ u }) => u)),
    effectiveDof(parts),
  );
};
