import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  bodyAttitude,
  type BodyAttitude,
  type HeightPoint,
} from '../../../core/alignment/bodyAttitude.ts';
import { loadedRadius, type TyreRadius } from '../../../core/alignment/loadedRadius.ts';
import { rake } from '../../../core/alignment/rake.ts';
import { rideHeightOnTyres } from '../../../core/alignment/rideHeightOnTyres.ts';
import { perCorner } from '../../../core/corners.ts';
import { measured, type Measured } from '../../../core/measured.ts';
import { EXAMPLE_CAR, EXAMPLE_CAR_MASS } from '../../../core/sheet/car.ts';
import { kilogram, metre, STANDARD_GRAVITY } from '../../../core/units.ts';
import { DEGREE, rotateByMatrix } from './rotateByMatrix.ts';

const U = 2e-4;
const m = (value: number, u = U): Measured => measured(value, u, 30);
const accepted = <T>(outcome: { ok: true; result: T } | { ok: false; why: string }): T => {
  if (!outcome.ok) throw new Error(outcome.why);
  return outcome.result;
};

const PLACES = [
  ['floor front left', 0.3, 0.4],
  ['floor front right', 0.3, -0.4],
  ['floor rear left', -2.2, 0.6],
  ['floor rear right', -2.2, -0.6],
  ['splitter', 0.8, 0.1],
  ['gearbox', -2.9, -0.05],
] as const;

const heights = (height: (x: number, y: number) => number, count = 6): readonly HeightPoint[] =>
  PLACES.slice(0, count).map(([name, x, y]) => ({
    name,
    x,
    y,
    above: name === 'splitter' ? 0.01 : 0,
    height: m(height(x, y) + (name === 'splitter' ? 0.01 : 0)),
    datum: 'patch',
  }));

const fitted = (points: readonly HeightPoint[]): BodyAttitude =>
  accepted(bodyAttitude(points, EXAMPLE_CAR));

describe('heave, pitch and roll from ride heights', () => {
  test('of a body that a matrix turns: nose down 0.4°, left side up 0.2°', () => {
    const height = (x: number, y: number): number => {
      const pitched = rotateByMatrix(0.4 * DEGREE, [0, 1, 0], [x, y, 0]);
      return 0.06 + rotateByMatrix(0.2 * DEGREE, [1, 0, 0], pitched)[2];
    };
    const found = fitted(heights(height));
    expect(found.heave.value).toBeCloseTo(0.06, 6);
    expect(found.pitch.value).toBeCloseTo(0.4 * DEGREE, 6);
    expect(found.roll.value).toBeCloseTo(0.2 * DEGREE, 6);
    expect(found.rake.angle.value).toBeCloseTo(0.4 * DEGREE, 6);
    expect(found.rake.length.value).toBeCloseTo(2.7 * Math.tan(0.4 * DEGREE), 5);
    expect(found.corners.LF.value).toBeCloseTo(height(0, 0.84), 6);
    expect(found.corners.RR.value).toBeCloseTo(height(-2.7, -0.825), 6);
    expect(found.notPlane).toBeNull();
  });

  test('corner uncertainty follows from the covariance; three points fit without a residual', () => {
    const found = fitted(heights((x) => 0.06 - 0.002 * x, 3));
    const [a, b, c] = [1, 2.7, 0.825];
    const row = [a, b, c];
    const variance = row.reduce(
      (sum, ri, i) => sum + row.reduce((own, rj, j) => own + ri * rj * found.covariance[i]![j]!, 0),
      0,
    );
    expect(found.corners.LR.u ** 2).toBeCloseTo(variance, 14);
    expect(Math.max(...found.residuals.map(({ residual }) => Math.abs(residual)))).toBeLessThan(
      1e-15,
    );
  });

  test('mirroring the points mirrors roll and corners', () => {
    const small = fc.double({ min: -3e-4, max: 3e-4, noNaN: true });
    fc.assert(
      fc.property(fc.tuple(small, small, small, small, small, small), (shift) => {
        const points = heights((x, y) => 0.06 - 0.003 * x + 0.002 * y).map((each, i) => ({
          ...each,
          height: m(each.height.value + shift[i]!),
        }));
        const one = fitted(points);
        const other = fitted(points.map((each) => ({ ...each, y: -each.y })));
        expect(other.roll.value).toBeCloseTo(-one.roll.value, 12);
        expect(other.pitch.value).toBeCloseTo(one.pitch.value, 12);
        expect(other.corners.LF.value).toBeCloseTo(one.corners.RF.value, 12);
        expect(other.corners.LR.u).toBeCloseTo(one.corners.RR.u, 12);
      }),
      { seed: 8, numRuns: 100 },
    );
  });

  test('one misread height is named, with by how much', () => {
    const points = heights((x) => 0.06 - 0.002 * x).map((each, i) =>
      i === 4 ? { ...each, height: m(each.height.value + 0.005) } : each,
    );
    const { notPlane } = fitted(points);
    expect(notPlane?.readings.map(({ name }) => name)).toEqual(['splitter']);
    expect(notPlane?.readings[0]?.by.value).toBeCloseTo(0.005, 12);
    expect(notPlane?.twist).toBeNull();
    expect(notPlane?.words).toContain('at splitter is out of the plane');
  });

  test('a twisted body is told from a misread height, with its angle', () => {
    // Front lump rolled by 0.1° more than the rear one, linearly in between.
    const twist = 0.2 * DEGREE;
    const points = heights((x, y) => 0.06 - 0.002 * x + twist * (x / 2.7 + 0.5) * y);
    const { notPlane } = fitted(points);
    expect(notPlane?.readings).toEqual([]);
    expect(notPlane?.twist?.value).toBeCloseTo(twist, 10);
    expect(notPlane?.words).toContain('twisted body');
  });

  test('four points cannot tell which, and say what would', () => {
    const points = heights((x) => 0.06 - 0.002 * x, 4).map((each, i) =>
      i === 0 ? { ...each, height: m(each.height.value + 0.005) } : each,
    );
    const { notPlane, heave } = fitted(points);
    expect(notPlane?.readings).toHaveLength(4);
    expect(notPlane?.words).toContain('a fifth reference point');
    // One residual carries the whole uncertainty then.
    expect(heave.dof).toBe(1);
  });

  test('one sound set in twenty is doubted', () => {
    let seed = 5;
    const uniform = (): number => {
      seed = (seed * 16807) % 2147483647;
      return seed / 2147483647;
    };
    const normal = (): number =>
      Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
    const doubted = Array.from({ length: 2000 }, () =>
      fitted(
        heights((x) => 0.06 - 0.002 * x).map((each) => ({
          ...each,
          height: m(each.height.value + U * normal()),
        })),
      ),
    ).filter(({ notPlane }) => notPlane !== null).length;
    // 5 % of 2,000 with four standard deviations of the count.
    expect(Math.abs(doubted - 100)).toBeLessThan(39);
  });

  test('too few, in a line, of several datums: refused', () => {
    const points = heights(() => 0.06);
    expect(bodyAttitude(points.slice(0, 2), EXAMPLE_CAR)).toMatchObject({ ok: false });
    const line = points.slice(0, 3).map((each) => ({ ...each, y: 0.5 * each.x }));
    expect(bodyAttitude(line, EXAMPLE_CAR)).toMatchObject({ ok: false });
    const mixed = points.map((each, i) => ({ ...each, datum: i ? each.datum : ('pad' as const) }));
    expect(bodyAttitude(mixed, EXAMPLE_CAR)).toMatchObject({ ok: false });
  });
});

describe('rake', () => {
  test('check value of the design, 6.7: 5 mm of rake is 0.106° of caster', () => {
    const found = accepted(
      rake({
        front: { x: 0, height: m(0.06), above: 0 },
        rear: { x: -2.7, height: m(0.065), above: 0 },
        wheelbase: 2.7,
      }),
    );
    expect(found.length.value).toBeCloseTo(0.005, 12);
    expect(found.angle.value / DEGREE).toBeCloseTo(0.106, 3);
  });

  test('points inside the wheelbase are projected to the axles, with their uncertainty', () => {
    const found = accepted(
      rake({
        front: { x: -0.35, height: m(0.07), above: 0.01 },
        rear: { x: -2.15, height: m(0.066), above: 0 },
        wheelbase: 2.7,
      }),
    );
    // By hand: 6 mm over 1.8 m is 9 mm over 2.7 m.
    expect(found.length.value).toBeCloseTo(0.009, 12);
    expect(found.length.u).toBeCloseTo(U * Math.SQRT2 * 1.5, 9);
  });

  test('points exchanged or too near are refused', () => {
    const at = (x: number) => ({ x, height: m(0.06), above: 0 });
    expect(rake({ front: at(-2), rear: at(0), wheelbase: 2.7 })).toMatchObject({ ok: false });
    expect(rake({ front: at(0), rear: at(-0.1), wheelbase: 2.7 })).toMatchObject({ ok: false });
  });
});

describe('loaded radius of a tyre', () => {
  const tyre: TyreRadius = {
    radius: m(0.33),
    load: 3000,
    pressure: 180e3,
    verticalRate: measured(250e3, 10e3, 8),
    perPressure: measured(2e-8, 5e-9, 8),
  };

  test('500 N more sink it by 2 mm, 20 kPa more lift it by 0.4 mm', () => {
    const found = accepted(loadedRadius(tyre, { load: 3500, pressure: 200e3 }));
    expect(found.value).toBeCloseTo(0.33 - 0.002 + 0.0004, 12);
    // By hand: 2 mm·4 %, and 20 kPa times 5 nm/Pa, beside the radius itself.
    expect(found.u).toBeCloseTo(Math.hypot(2e-4, 8e-5, 1e-4), 6);
  });

  test('what was not measured is not assumed', () => {
    const here = { load: 3000, pressure: 180e3 };
    const bare = { ...tyre, verticalRate: null, perPressure: null };
    expect(accepted(loadedRadius(bare, here)).value).toBe(0.33);
    expect(loadedRadius(bare, { ...here, load: 3500 })).toMatchObject({ ok: false });
    expect(loadedRadius(bare, { ...here, pressure: 200e3 })).toMatchObject({ ok: false });
    expect(loadedRadius(tyre, { ...here, pressure: 0 })).toMatchObject({ ok: false });
    const far = loadedRadius(tyre, { ...here, load: 6000 });
    expect(far.ok && far.warnings).toHaveLength(1);
  });
});

describe('from set-up wheels to tyres', () => {
  const standing = {
    car: EXAMPLE_CAR,
    mass: kilogram(EXAMPLE_CAR_MASS.mass),
    frontShare: EXAMPLE_CAR_MASS.frontShare,
    cgLeft: metre(EXAMPLE_CAR_MASS.cgLeft),
    gravity: STANDARD_GRAVITY,
  };
  const wheels = perCorner(() => m(0.33, 1e-4));
  const convert = (x: number, y: number, change: readonly number[]) =>
    rideHeightOnTyres({
      height: m(0.06),
      x,
      y,
      setUpWheels: wheels,
      tyres: perCorner((_, i) => m(0.33 + change[i]!, 3e-4)),
      standing,
      bars: 'off',
    });

  test('four tyres 4 mm taller lift every point by 4 mm', () => {
    const found = accepted(convert(-1.1, 0.3, [0.004, 0.004, 0.004, 0.004]));
    expect(found.value).toBeCloseTo(0.064, 12);
    expect(found.u).toBeGreaterThan(U);
  });

  test('front 2 mm and rear 5 mm taller: a plane through both axles', () => {
    const found = accepted(convert(-0.9, 0.5, [0.002, 0.002, 0.005, 0.005]));
    expect(found.value).toBeCloseTo(0.06 + 0.002 + 0.003 / 3, 12);
  });

  test('one alone lifts the body as the design has it, 6.2: 0.235, 0.765, −0.261, 0.261 mm per mm', () => {
    const places = [
      [0, 0.84],
      [0, -0.84],
      [-2.7, 0.825],
      [-2.7, -0.825],
    ] as const;
    const rises = places.map(
      ([x, y]) => 1e3 * (accepted(convert(x, y, [0, 0.001, 0, 0])).value - 0.06),
    );
    for (const [i, wanted] of [0.235, 0.765, -0.261, 0.261].entries())
      expect(rises[i]).toBeCloseTo(wanted, 3);
  });

  test('diameters for radii, a car not weighed and a floor on the ground are refused', () => {
    expect(convert(0, 0, [1, 0, 0, 0])).toMatchObject({ ok: false });
    expect(convert(0, 0, [-0.09, -0.09, -0.09, -0.09])).toMatchObject({ ok: false });
    const input = {
      height: m(0.06),
      x: 0,
      y: 0,
      setUpWheels: wheels,
      tyres: wheels,
      bars: 'on',
    } as const;
    expect(
      rideHeightOnTyres({ ...input, standing: { ...standing, mass: kilogram(0) } }),
    ).toMatchObject({ ok: false });
  });
});
