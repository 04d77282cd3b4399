import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { fieldQuestion, type FieldReading } from '../../../core/alignment/fieldQuestion.ts';
import { measured } from '../../../core/measured.ts';
import { DEGREE } from './rotateByMatrix.ts';

const length = (mm: number, target: number | null, last: number | null): FieldReading => ({
  quantity: 'length',
  reading: measured(mm / 1e3, 2e-4, 30),
  target: target === null ? null : { value: target / 1e3, tolerance: 5e-4 },
  last: last === null ? null : measured(last / 1e3, 2e-4, 30),
});
const angle = (degrees: number, target: number, tolerance = 0.05): FieldReading => ({
  quantity: 'angle',
  reading: measured(degrees * DEGREE, 0.02 * DEGREE, 30),
  target: { value: target * DEGREE, tolerance: tolerance * DEGREE },
  last: null,
});
const mass = (kg: number, last: number): FieldReading => ({
  quantity: 'mass',
  reading: measured(kg, 0.1, 30),
  target: null,
  last: measured(last, 0.1, 30),
});

describe('whether a reading is questioned beside its field', () => {
  test('near its target or its last reading it is not', () => {
    expect(fieldQuestion(length(60.4, 60, 55))).toBeNull();
    expect(fieldQuestion(length(61, null, 60.2))).toBeNull();
    expect(fieldQuestion(length(62.4, 60, null))).toBeNull();
    expect(fieldQuestion(length(500, null, null))).toBeNull();
  });

  test('far from either it is, and says from which and by what limit', () => {
    const fromLast = fieldQuestion(length(63, 60, 60.1));
    expect(fromLast?.farFrom).toBe('its last reading');
    // Four times 0.2 mm twice in quadrature is 1.13 mm, above the tolerance.
    expect(fromLast?.limit).toBeCloseTo(4 * 2e-4 * Math.SQRT2, 12);
    const fromTarget = fieldQuestion(length(63, 60, 62.9));
    expect(fromTarget).toMatchObject({ farFrom: 'its target', slip: null });
    expect(fromTarget?.words).toContain('both readings are kept');
    expect(fromTarget?.difference).toBeCloseTo(0.003, 12);
  });

  test.each([
    ['inches taken for millimetres', length(2.36, 60, 60.1), 2.36 * 0.0254],
    ['millimetres taken for inches', length(60 * 25.4, 60, null), 0.06],
    ['the decimal point', length(6, 60, 60), 0.06],
    ['minutes of arc taken for degrees', angle(12, 0.2, 0.02), 0.2 * DEGREE],
    ['degrees taken for minutes of arc', angle(-3 / 60, -3), -3 * DEGREE],
    ['the sign', angle(3.02, -3), -3.02 * DEGREE],
    ['pounds taken for kilograms', mass(181, 82), 181 * 0.45359237],
    ['kilograms taken for pounds', mass(82 * 0.45359237, 82), 82],
  ])('names %s', (is, field, meant) => {
    const found = fieldQuestion(field);
    expect(found?.slip?.is).toBe(is);
    expect(found?.slip?.meant).toBeCloseTo(meant, 9);
    expect(found?.words).toContain(is);
  });

  test('a target of about zero names no slip: any shrinking would fit', () => {
    const found = fieldQuestion(angle(12, 0));
    expect(found?.farFrom).toBe('its target');
    expect(found?.slip).toBeNull();
  });

  test('a slip may fit the new target where the last reading is of another set-up', () => {
    expect(fieldQuestion(length(2.36, 60, 40))?.slip?.is).toBe('inches taken for millimetres');
  });

  test('every slip is asked about wherever the target is ten tolerances or more from zero', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(25.4, 1 / 25.4, 10, 0.1, -1, 1 / 60, 60, 0.45359237, 1 / 0.45359237),
        fc.double({ min: 10, max: 1e4, noNaN: true }),
        fc.double({ min: -1, max: 1, noNaN: true }),
        (factor, tolerances, within) => {
          const tolerance = 1e-3;
          const found = fieldQuestion({
            quantity: 'length',
            reading: measured((tolerances + within) * tolerance * factor, 1e-5, 30),
            target: { value: tolerances * tolerance, tolerance },
            last: null,
          });
          // The least of them, 0.4536 of ten tolerances less the one within, is 5.0 off.
          expect(found).not.toBeNull();
        },
      ),
      { seed: 9, numRuns: 500 },
    );
  });

  test('mirroring signs of reading, target and last mirrors the difference', () => {
    const one = fieldQuestion(angle(-2.4, -3));
    const other = fieldQuestion(angle(2.4, 3));
    expect(other?.difference).toBeCloseTo(-(one?.difference ?? 9), 12);
  });
});
