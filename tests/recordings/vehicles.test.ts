import { expect } from 'vitest';
import { balance } from '../../core/balance/balance.ts';
import { measured } from '../../core/measured.ts';
import { KILOGRAM_PER_POUND, STANDARD_GRAVITY } from '../../core/units.ts';
import { sharedData } from '../support/sharedData.ts';
import { readRows } from './recordedData.ts';

/**
 * Twenty-five road vehicles weighed and measured by a government laboratory: mass, tracks, wheelbase
 * and centre of gravity. Their corner loads are rebuilt by moments, and the centre recovered.
 *
 * The file counts *lateral* positive to the right, as the SAE axes of its time do: in all 25 it is
 * negative, towards the driver's side of cars driven on the right of the road. Ours is left.
 */
const METRE_PER_INCH = 0.0254;

const recording = sharedData('vehicle-mass-cg-2004.csv');

recording.test(
  'the centre of gravity of 25 road vehicles comes back from corner loads rebuilt of it',
  () => {
    const rows = readRows(recording.file);
    expect(rows).toHaveLength(25);
    for (const row of rows) {
      const metres = (column: string): number => Number(row[column]) * METRE_PER_INCH;
      const wheelbase = metres('Wheel base (in)');
      const trackFront = metres('Front Track (in)');
      const trackRear = metres('Rear Track (in)');
      const behind = metres('CG Long (in)');
      const left = -metres('CG Lateral (in)');
      const mass = Number(row['Test Weight (lb)']) * KILOGRAM_PER_POUND;
      const weight = mass * STANDARD_GRAVITY;

      // Moments about the rear axle give the front's share; each axle carries the offset alike.
      const front = (weight * (wheelbase - behind)) / wheelbase;
      const rear = weight - front;
      const loads = {
        LF: front * (0.5 + left / trackFront),
        RF: front * (0.5 - left / trackFront),
        LR: rear * (0.5 + left / trackRear),
        RR: rear * (0.5 - left / trackRear),
      };
      const found = balance({
        forces: {
          LF: measured(loads.LF, 1, Infinity),
          RF: measured(loads.RF, 1, Infinity),
          LR: measured(loads.LR, 1, Infinity),
          RR: measured(loads.RR, 1, Infinity),
        },
        gravity: STANDARD_GRAVITY,
        wheelbase,
        trackFront,
        trackRear,
        cross: 'RF+LR',
      });
      const name = `${row['Make']} ${row['Model']}`;
      expect(found?.total.value, name).toBeCloseTo(mass, 8);
      expect(found?.cgBehindFrontAxle.value, name).toBeCloseTo(behind, 9);
      expect(found?.cgLeftOfCentre.value, name).toBeCloseTo(left, 9);
      expect(found?.cgLeftOfCentre.value, name).toBeGreaterThan(0);
      // The laboratory's own column of the front share, to its ten digits.
      expect(found?.frontShare.value, name).toBeCloseTo(Number(row['WD (%)']), 8);
    }
  },
);
