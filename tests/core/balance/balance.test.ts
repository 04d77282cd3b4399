import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { balance } from '../../../core/balance/balance.ts';
import type { Balance, CrossDiagonal } from '../../../core/contract/records.ts';
import { perCorner, type PerCorner } from '../../../core/corners.ts';
import { measured, type Measured } from '../../../core/measured.ts';

type Loads = readonly [number, number, number, number];
type Given = Parameters<typeof balance>[0];

const CAR = { wheelbase: 2.7, trackFront: 1.54, trackRear: 1.5 };
const EXAMPLE = { wheelbase: 2.7, trackFront: 1.68, trackRear: 1.65 };
const G = 9.81;

const forces = (loads: Loads, u = 0, dof = Infinity): PerCorner<Measured> =>
  perCorner((_, index) => measured((loads[index] as number) * G, u * G, dof));

const balanced = (loads: Loads, changes: Partial<Given> = {}): Balance => {
  const found = balance({ forces: forces(loads), gravity: G, cross: 'RF+LR', ...CAR, ...changes });
  if (!found) throw new Error('no balance');
  return found;
};

const FIELDS = [
  'total',
  'front',
  'rear',
  'left',
  'right',
  'frontShare',
  'leftShare',
  'crossShare',
  'frontDifference',
  'rearDifference',
  'diagonalDifference',
  'cgBehindFrontAxle',
  'cgLeftOfCentre',
] as const satisfies readonly (keyof Balance)[];

describe('worked cases', () => {
  // Moments and shares worked out elsewhere, by hand and by a numeric library.
  test.each<[Loads, readonly [number, number, number, number, number, number]]>([
    [
      [312.4, 298.6, 341.2, 327.8],
      [1280, 47.734375, 51.0625, 49.984375, 1.411171875, 0.016153125],
    ],
    [
      [250, 230, 270, 310],
      [1060, 45.283019, 49.056604, 47.169811, 1.477358491, -0.013773585],
    ],
  ])('%j kg', (loads, [total, front, left, cross, behind, leftOf]) => {
    const found = balanced(loads);
    expect(found.total.value).toBeCloseTo(total, 9);
    expect(100 * found.frontShare.value).toBeCloseTo(front, 6);
    expect(100 * found.leftShare.value).toBeCloseTo(left, 6);
    expect(100 * found.crossShare.value).toBeCloseTo(cross, 6);
    expect(found.cgBehindFrontAxle.value).toBeCloseTo(behind, 9);
    expect(found.cgLeftOfCentre.value).toBeCloseTo(leftOf, 9);
  });

  test('the example car: 1305 kg, 47.5 % front, 6 mm left', () => {
    const found = balanced([312.411, 307.464, 344.789, 340.336], EXAMPLE);
    expect(found.total.value).toBeCloseTo(1305, 3);
    expect(found.frontShare.value).toBeCloseTo(0.475, 6);
    expect(found.cgBehindFrontAxle.value).toBeCloseTo(2.7 * 0.525, 5);
    expect(found.cgLeftOfCentre.value).toBeCloseTo(0.006, 5);
    expect(found.frontDifference.value).toBeCloseTo(4.947, 9);
    expect(found.rearDifference.value).toBeCloseTo(4.453, 9);
    expect(found.diagonalDifference.value).toBeCloseTo(307.464 + 344.789 - 312.411 - 340.336, 9);
  });

  test.each([
    [0.1, 0.0078125],
    [0.2, 0.015625],
    [0.5, 0.0390625],
  ])(
    '%d kg at each corner is %d points of cross weight, and twice that in the total',
    (u, points) => {
      // u_c = u·√(2(1−c)² + 2c²)/W; the published figures are for c = ½ to their last digit.
      const loads: Loads = [312.4, 298.6, 341.2, 327.8];
      const found = balanced(loads, { forces: forces(loads, u) });
      const c = 0.49984375;
      const exact = (100 * u * Math.sqrt(2 * (1 - c) ** 2 + 2 * c * c)) / 1280;
      expect(100 * found.crossShare.u).toBeCloseTo(exact, 12);
      expect(100 * found.crossShare.u).toBeCloseTo(points, 7);
      expect(found.total.u).toBeCloseTo(2 * u, 12);
    },
  );
});

const load = fc.double({ min: 100, max: 500, noNaN: true });
const loads = fc.tuple(load, load, load, load);
/** A lower triangular root, N; its product with its transpose is any covariance. */
const root = fc.array(fc.double({ min: -5, max: 5, noNaN: true }), {
  minLength: 10,
  maxLength: 10,
});

const covarianceOf = (entries: readonly number[]): number[] => {
  const at = (row: number, column: number): number =>
    column <= row ? (entries[(row * (row + 1)) / 2 + column] as number) : 0;
  return Array.from({ length: 16 }, (_, index) => {
    const [row, column] = [Math.floor(index / 4), index % 4];
    return [0, 1, 2, 3].reduce((sum, k) => sum + at(row, k) * at(column, k), 0);
  });
};

describe('properties', () => {
  test('every uncertainty is that of a numeric derivative with the full covariance', () => {
    fc.assert(
      fc.property(
        loads,
        root,
        fc.constantFrom<CrossDiagonal>('RF+LR', 'LF+RR'),
        (four, entries, cross) => {
          const covariance = covarianceOf(entries);
          const found = balanced(four, { covariance, cross });
          const step = 0.01;
          const moved = (index: number, by: number): Balance => {
            const other = four.map((value, at) => (at === index ? value + by : value));
            return balanced(other as unknown as Loads, { cross });
          };
          const up = [0, 1, 2, 3].map((index) => moved(index, step));
          const down = [0, 1, 2, 3].map((index) => moved(index, -step));
          for (const field of FIELDS) {
            const slopes = [0, 1, 2, 3].map(
              (index) =>
                ((up[index] as Balance)[field].value - (down[index] as Balance)[field].value) /
                (2 * step * G),
            );
            let variance = 0;
            for (let i = 0; i < 4; i += 1)
              for (let j = 0; j < 4; j += 1)
                variance +=
                  (slopes[i] as number) * (covariance[4 * i + j] as number) * (slopes[j] as number);
            const scale = Math.max(...slopes.map(Math.abs)) * 20;
            expect(Math.abs(found[field].u - Math.sqrt(Math.max(0, variance)))).toBeLessThan(
              1e-4 * scale,
            );
          }
        },
      ),
      { seed: 1, numRuns: 150 },
    );
  });

  test('mirroring the car mirrors left and right and nothing else', () => {
    fc.assert(
      fc.property(loads, ([lf, rf, lr, rr]) => {
        const found = balanced([lf, rf, lr, rr]);
        const mirror = balanced([rf, lf, rr, lr], { cross: 'LF+RR' });
        expect(mirror.cgLeftOfCentre.value).toBeCloseTo(-found.cgLeftOfCentre.value, 12);
        expect(mirror.leftShare.value).toBeCloseTo(1 - found.leftShare.value, 12);
        expect(mirror.left.value).toBeCloseTo(found.right.value, 9);
        expect(mirror.frontShare.value).toBeCloseTo(found.frontShare.value, 12);
        expect(mirror.crossShare.value).toBeCloseTo(found.crossShare.value, 12);
        expect(mirror.frontDifference.value).toBeCloseTo(-found.frontDifference.value, 9);
      }),
      { seed: 2 },
    );
  });

  test('scaling the mass leaves shares and places alone; the two diagonals make one', () => {
    fc.assert(
      fc.property(loads, fc.double({ min: 0.2, max: 5, noNaN: true }), (four, factor) => {
        const found = balanced(four);
        const scaled = balanced(four.map((value) => value * factor) as unknown as Loads);
        for (const field of ['frontShare', 'leftShare', 'crossShare', 'cgBehindFrontAxle'] as const)
          expect(scaled[field].value).toBeCloseTo(found[field].value, 10);
        expect(scaled.cgLeftOfCentre.value).toBeCloseTo(found.cgLeftOfCentre.value, 10);
        expect(scaled.total.value).toBeCloseTo(found.total.value * factor, 7);
        const other = balanced(four, { cross: 'LF+RR' });
        expect(other.crossShare.value + found.crossShare.value).toBeCloseTo(1, 12);
        expect(found.left.value + found.right.value).toBeCloseTo(found.total.value, 9);
        expect(found.front.value + found.rear.value).toBeCloseTo(found.total.value, 9);
      }),
      { seed: 3 },
    );
  });

  test('gravity is taken out of masses and of nothing else', () => {
    const here = balanced([300, 310, 320, 330]);
    const there = balanced([300, 310, 320, 330], { gravity: 9.78 });
    expect(there.total.value / here.total.value).toBeCloseTo(G / 9.78, 12);
    expect(there.crossShare).toEqual(here.crossShare);
    expect(there.cgLeftOfCentre).toEqual(here.cgLeftOfCentre);
  });

  test('a rocking that only moves load about does not touch the total', () => {
    // Left gains what right loses: covariance ±1.
    const sides = [1, -1, 1, -1];
    const covariance = Array.from(
      { length: 16 },
      (_, index) => (sides[Math.floor(index / 4)] as number) * (sides[index % 4] as number),
    );
    const found = balanced([300, 310, 320, 330], { covariance });
    expect(found.total.u).toBeCloseTo(0, 12);
    expect(found.front.u).toBeCloseTo(0, 12);
    expect(found.left.u).toBeCloseTo(2 / G, 12);
  });
});

describe('degrees of freedom', () => {
  test('equal independent parts add theirs, by Welch–Satterthwaite', () => {
    const found = balanced([300, 300, 300, 300], { forces: forces([300, 300, 300, 300], 0.1, 5) });
    // (4u²)²/(4·u⁴/5) = 20.
    expect(found.total.dof).toBeCloseTo(20, 9);
    expect(found.front.dof).toBeCloseTo(10, 9);
  });

  test('one part that dominates brings its own', () => {
    const uneven = {
      ...forces([300, 300, 300, 300], 1e-6, 50),
      RF: measured(300 * G, 1, 4),
    };
    expect(balanced([300, 300, 300, 300], { forces: uneven }).total.dof).toBeCloseTo(4, 6);
  });

  test('exact inputs are exact', () => {
    const found = balanced([300, 310, 320, 330]);
    for (const field of FIELDS) expect(found[field]).toMatchObject({ u: 0, dof: Infinity });
  });
});

describe('nothing to balance', () => {
  test.each<[string, Loads, number]>([
    ['empty pads', [0, 0, 0, 0], 0.02],
    ['a total below nothing', [-1, -1, -1, -1], 0.02],
    ['a total lost in its uncertainty', [1, 1, 1, 1], 0.1],
  ])('%s', (_name, four, u) => {
    expect(balance({ forces: forces(four, u), gravity: G, cross: 'RF+LR', ...CAR })).toBeNull();
  });

  test('inputs that cannot be are refused', () => {
    expect(() => balanced([1, 2, 3, 4], { gravity: 0 })).toThrow(RangeError);
    expect(() => balanced([1, 2, 3, 4], { wheelbase: NaN })).toThrow(RangeError);
    expect(() => balanced([1, 2, 3, 4], { covariance: [1, 2, 3] })).toThrow(RangeError);
  });
});
