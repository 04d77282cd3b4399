import { expect, test } from 'vitest';
import { calibrate } from '../../../core/calibration/calibrate.ts';
import { nominalCalibration, toForce } from '../../../core/calibration/calibration.ts';
import { referenceForce, transferReference } from '../../../core/calibration/transfer.ts';
import { calibrationOf, isForUse } from '../../../core/calibration/useRecord.ts';
import type { TakenPoint } from '../../../core/contract/calibrationRecord.ts';
import { measured } from '../../../core/measured.ts';
import { createRandom } from '../../../drivers/pads/rig/random.ts';
import {
  countsOver,
  GRAVITY,
  input,
  RATING,
  SLOPE,
  SOUND,
  take,
  UP_AND_DOWN,
} from './simulatedPad.ts';

/** A pad calibrated against another in series: the force is a jack's, and is nowhere a round number. */

const reference = calibrationOf(calibrate(input(take(SOUND, [...UP_AND_DOWN, ...UP_AND_DOWN]))));
if (!reference) throw new Error('the reference is not for use');

const byJack = (span: number, seed: number): TakenPoint[] => {
  const random = createRandom(seed);
  return take(SOUND, [...UP_AND_DOWN, ...UP_AND_DOWN]).map((point) => {
    const count = point.massIds.length;
    const mass = count === 0 ? 0 : 20 * count + random.between(-0.3, 0.3);
    const noise = (): number => 0.01 * SLOPE * GRAVITY * random.normal();
    return {
      ...point,
      padSerial: 'P-2',
      massIds: [],
      reference: referenceForce(
        reference,
        measured(5_000, 5, 40),
        measured(5_000 + countsOver(SOUND, mass) + noise(), 5, 40),
      ),
      counts: measured(77_000 + countsOver({ ...SOUND, span }, mass) + noise(), 5, 40),
    };
  });
};

const found = transferReference({ serial: 'P-1', calibration: reference, of: 'P-2' });

test('the span comes over, with the uncertainty of the reference', () => {
  if (!found.ok) throw new Error(found.why);
  const record = calibrate({
    ...input(byJack(0.9973, 3)),
    padSerial: 'P-2',
    masses: null,
    reference: found.reference,
  });
  expect(record.kind).toBe('transfer');
  expect(record.findings.filter(({ weight }) => weight !== 'notes')).toEqual([]);
  expect(isForUse(record)).toBe(true);
  const calibration = calibrationOf(record);
  if (!calibration) throw new Error('not for use');
  const mass = toForce(calibration, 0, countsOver({ ...SOUND, span: 0.9973 }, 250)) / GRAVITY;
  expect(Math.abs(mass - 250)).toBeLessThan(0.03);
  expect(record.uApplied).toBe(reference.uRelative);
  expect(calibration.uRelative ?? 0).toBeGreaterThan(reference.uRelative ?? Infinity);
  // Loads that a jack meets within 0.2 % of the top count as the same, so that hysteresis is seen.
  expect(record.characteristics?.hysteresis).not.toBeNull();
  expect(record.characteristics?.repeatability?.dof).toBe(9);
  expect(record.verdict?.outcome).toBe('within');
});

test('gravity is not in it: the same points elsewhere give the same newtons', () => {
  if (!found.ok) throw new Error(found.why);
  const at = (gravity: number) =>
    calibrate({
      ...input(byJack(1, 4)),
      padSerial: 'P-2',
      masses: null,
      reference: found.reference,
      place: { venueId: null, name: 'elsewhere', gravity },
    }).coefficients;
  expect(at(9.79)).toEqual(at(9.83));
});

test('force by the reference carries the scatter of reading and zero', () => {
  const force = referenceForce(reference, measured(0, 300, 20), measured(1_000_000, 400, 20));
  // 3-4-5: slopes of a straight pad are the same at both.
  expect(force.u / (500 / (SLOPE * 1.0004))).toBeCloseTo(1, 3);
  // Welch–Satterthwaite of 9 and 16 parts in 25 with 20 each: 25²·20/(81 + 256).
  expect(force.dof).toBeCloseTo((625 * 20) / 337, 1);
});

test('a pad is no reference for itself, uncalibrated, or used in spite of findings', () => {
  expect(transferReference({ serial: 'P-1', calibration: reference, of: 'P-1' }).ok).toBe(false);
  const nominal = nominalCalibration({ ...RATING, resolution: 1 });
  expect(transferReference({ serial: 'P-1', calibration: nominal, of: 'P-2' }).ok).toBe(false);
  expect(
    transferReference({
      serial: 'P-1',
      calibration: { ...reference, inSpiteOf: 'Nothing better here.' },
      of: 'P-2',
    }),
  ).toMatchObject({ ok: false, next: expect.stringContaining('sound') as string });
});
