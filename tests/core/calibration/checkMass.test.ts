import { describe, expect, test } from 'vitest';
import { appliedMass } from '../../../core/calibration/appliedMass.ts';
import { checkMass, gravityByMass } from '../../../core/calibration/checkMass.ts';
import { normalGravity } from '../../../core/calibration/gravity.ts';
import { measured } from '../../../core/measured.ts';
import { EXAMPLE_VENUES } from '../../../core/sheet/venue.ts';

const MASS = appliedMass([
  {
    id: 'a',
    label: '20 kg A',
    nominal: { value: 20, unit: 'kg' },
    basis: { is: 'class', class: 'M1' },
  },
]);
const GRAVITY = 9.81;

const check = (read: number, u: number, change: Partial<Parameters<typeof checkMass>[0]> = {}) =>
  checkMass({
    force: measured(read * GRAVITY, u * GRAVITY, 30),
    mass: MASS,
    gravity: GRAVITY,
    curve: null,
    limit: 5e-4,
    ...change,
  });

describe('one known mass on a pad', () => {
  test('same, moved, cannot tell: by the interval against the limit of 0.05 %, 10 g', () => {
    expect(check(20.002, 0.002).state).toBe('same');
    expect(check(20.02, 0.002).state).toBe('moved');
    expect(check(20.02, 0.02).state).toBe('cannot tell');
    expect(check(20.009, 0.002).state).toBe('cannot tell');
    expect(check(19.98, 0.002).state).toBe('moved');
  });

  test('the ratio and its parts', () => {
    const found = check(20.01, 0.003, { curve: { u: 0.004 * GRAVITY, dof: 10 } });
    expect(found.ratio.value).toBeCloseTo(1.0005, 9);
    expect(found.difference).toBeCloseTo(0.01, 9);
    expect(found.uReading).toBeCloseTo(1.5e-4, 9);
    // In quadrature: 3 g, 4 g and the mass, of 20 kg.
    expect(found.ratio.u).toBeCloseTo(Math.hypot(0.005, MASS.u ?? NaN) / 20, 9);
  });

  test('a mass known only by its number tells nothing', () => {
    const found = check(21, 0.001, { mass: { value: 20, u: null, parts: null } });
    expect(found).toMatchObject({ state: 'cannot tell', uMass: null });
  });

  test('what is no check is refused', () => {
    expect(() => check(20, 0.001, { limit: 0 })).toThrow(RangeError);
    expect(() => check(20, 0.001, { mass: appliedMass([]) })).toThrow(RangeError);
  });
});

describe('a check mass against gravity', () => {
  const [here, other] = [EXAMPLE_VENUES[1], EXAMPLE_VENUES[0]].map((venue) =>
    venue ? (normalGravity(venue) as number) : NaN,
  ) as [number, number];
  const ask = (mass: number, read: number) => gravityByMass({ mass, read, u: 0.05, here, other });

  test('m·Δg/g must reach three times u: 68 kg between the example venues at 0.05 kg', () => {
    // 3 × 0.05 ÷ (9.813654/9.792001 − 1), by hand: 67.8 kg.
    expect(ask(60, 60).leastMass).toBeCloseTo(67.83, 1);
    expect(ask(60, 60.13)).toMatchObject({ canTell: false, fits: null });
    expect(ask(70, 70)).toMatchObject({ canTell: true, fits: 'here' });
  });

  test('what is read names the gravity that it fits, or none', () => {
    expect(ask(200, 200.05).fits).toBe('here');
    expect(ask(200, 200.44).fits).toBe('other');
    expect(ask(200, 201.5).fits).toBeNull();
    expect(ask(200, 200.22).fits).toBeNull();
  });

  test('the same gravity at both places tells nothing', () => {
    expect(gravityByMass({ mass: 500, read: 500, u: 0.01, here, other: here })).toEqual({
      canTell: false,
      leastMass: Infinity,
      fits: null,
    });
  });
});
