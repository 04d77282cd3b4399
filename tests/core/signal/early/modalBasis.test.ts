import { describe, expect, test } from 'vitest';
import {
  createColumns,
  fillDerivatives,
  fillFunctions,
  FIRST_MODE,
  FUNCTIONS,
  loadAt,
  modeAt,
  MODES,
  SHAPES,
  SLOW,
} from '../../../../core/signal/early/modalBasis.ts';
import { freeResponse } from '../../../studies/modalCar.ts';

const out = new Float64Array(2);
const response = (hertz: number, damping: number, t: number): readonly [number, number] => {
  modeAt(2 * Math.PI * hertz * t, damping, out);
  return [out[0] as number, out[1] as number];
};

describe('free response of a mode', () => {
  test.each([0.1, 0.3, 0.7, 0.99, 0.9999, 1, 1.0001, 1.2, 2])('damping %d', (damping) => {
    for (const t of [0, 0.001, 0.05, 0.3, 1, 4]) {
      const expected = freeResponse({ hertz: 3, damping }, t);
      const found = response(3, damping, t);
      // The textbook's forms themselves lose digits beside critical damping.
      expect(found[0]).toBeCloseTo(expected[0], damping > 0.99 && damping < 1.01 ? 9 : 12);
      expect(found[1]).toBeCloseTo(expected[1], damping > 0.99 && damping < 1.01 ? 9 : 12);
    }
  });

  test('is smooth through critical damping', () => {
    for (const t of [0.02, 0.1, 0.5, 1.5])
      for (const part of [0, 1] as const) {
        const at = (damping: number): number => response(4, damping, t)[part];
        for (const damping of [1 - 5e-6, 1, 1 + 5e-6])
          expect(at(damping + 2e-6) - 2 * at(damping) + at(damping - 2e-6)).toBeCloseTo(0, 9);
      }
  });

  test('a step to 300 kg, 3 Hz, damping 0.1, every 0.05 s', () => {
    // Second-order step response, computed apart (closed form of any control textbook).
    const expected = [0, 116.360476, 350.721717, 506.707199, 480.570432, 323.239031, 175.474159];
    expected.forEach((mass, k) => {
      expect(300 * (1 - response(3, 0.1, 0.05 * k)[0])).toBeCloseTo(mass, 5);
    });
  });
});

/** A shape with one mode under, one at and one over critical damping. */
const SHAPE = Float64Array.of(
  Math.log(2 * Math.PI * 2.4),
  Math.log(2 * Math.PI * 3.1),
  Math.log(2 * Math.PI * 4.4),
  0.4,
  1,
  1.3,
  Math.log(1.2),
);
const COEFFICIENTS = Float64Array.of(5, 12, -900, 300, 250, -80, 60, 120);
/** Uneven on purpose: gaps, bursts, and steps that repeat. */
const TIMES = Float64Array.of(0.003, 0.0155, 0.028, 0.0405, 0.053, 0.2, 0.2125, 0.225, 0.9, 2.4);

describe('columns', () => {
  const columns = createColumns(16);
  fillFunctions(columns, TIMES, TIMES.length, SHAPE);
  const column = (k: number): Float64Array => columns.at.subarray(16 * k, 16 * k + TIMES.length);

  test('stepped columns are the functions themselves', () => {
    TIMES.forEach((t, i) => {
      expect(column(0)[i]).toBe(1);
      expect(column(1)[i]).toBeCloseTo(Math.exp(-t / 1.2), 12);
      for (let mode = 0; mode < MODES; mode += 1) {
        const hertz = Math.exp(SHAPE[mode] as number) / (2 * Math.PI);
        const damping = SHAPE[MODES + mode] as number;
        const [one, two] = freeResponse({ hertz, damping }, t);
        expect(column(FIRST_MODE + 2 * mode)[i]).toBeCloseTo(one, 12);
        expect(column(FIRST_MODE + 2 * mode + 1)[i]).toBeCloseTo(two, 12);
      }
    });
  });

  test('an exponential rise to 100 with 0.8 s', () => {
    const shape = Float64Array.from(SHAPE);
    shape[SLOW] = Math.log(0.8);
    const rise = Float64Array.of(100, -100, 0, 0, 0, 0, 0, 0);
    const masses = [0.5, 1, 1.5].map((t) => loadAt(t, shape, rise, 0));
    [46.473857148101, 71.349520313981, 84.664503315508].forEach((mass, k) => {
      expect(masses[k]).toBeCloseTo(mass, 10);
    });
  });

  test('derivatives are the limits of differences', () => {
    fillDerivatives(columns, TIMES, TIMES.length, SHAPE, COEFFICIENTS, 0);
    for (let s = 0; s < SHAPES; s += 1) {
      const found = column(FUNCTIONS + s);
      const moved = (by: number, t: number): number => {
        const shape = Float64Array.from(SHAPE);
        shape[s] = (shape[s] as number) + by;
        return loadAt(t, shape, COEFFICIENTS, 0);
      };
      TIMES.forEach((t, i) => {
        // Five-point rule: the error is of the fourth order.
        const h = 1e-3;
        const numeric =
          (8 * (moved(h, t) - moved(-h, t)) - (moved(2 * h, t) - moved(-2 * h, t))) / (12 * h);
        expect(Math.abs((found[i] as number) - numeric)).toBeLessThan(1e-7 * 1500);
      });
    }
  });
});
