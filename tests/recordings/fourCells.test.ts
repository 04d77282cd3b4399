import { expect } from 'vitest';
import { CORNERS } from '../../core/corners.ts';
import { createSettle } from '../../core/signal/settle.ts';
import { KILOGRAM_PER_POUND, STANDARD_GRAVITY } from '../../core/units.ts';
import { sharedData } from '../support/sharedData.ts';
import { readRows } from './recordedData.ts';

const recording = sharedData('four-cells-near-zero-drift.csv');

/**
 * Four load cells without a load for seven seconds, wandering and drifting. The file does not say in
 * what unit, so it is read in each that it might be, down to ten grams.
 */
const UNITS = [
  ['kilogram', 1],
  ['pound', KILOGRAM_PER_POUND],
  ['a tenth of a kilogram', 0.1],
  ['ten grams', 0.01],
] as const;

recording.describe('four drifting cells are never called settled', () => {
  const rows = readRows(recording.file);
  for (const [name, kilograms] of UNITS)
    recording.test(`read in ${name}`, () => {
      expect(rows.length).toBeGreaterThan(50);
      const settle = createSettle();
      for (const row of rows) {
        CORNERS.forEach((corner, index) =>
          settle.corners[corner].push(
            Number(row['time']) / 1000,
            Number(row[`lc${index + 1}`]) * kilograms * STANDARD_GRAVITY,
          ),
        );
        expect(settle.now().stillness, `at ${row['time']} ms`).not.toBe('settled');
      }
      // Not for want of a full window: it was judged to the end.
      expect(settle.now().at).toBeGreaterThan(6.3);
      expect(settle.now().stillness).not.toBeNull();
    });
});
