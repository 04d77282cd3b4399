import { lusolve } from 'mathjs';
import type { StandingCar, Statics, Supports } from '../../../core/adjust/statics.ts';
import { perCorner, type PerCorner } from '../../../core/corners.ts';
import { EXAMPLE_CAR, type Car } from '../../../core/sheet/car.ts';
import { kilogram, metre, metrePerSecond2, newton } from '../../../core/units.ts';

/**
 * The same car written a second time, from its potential energy and nothing else: Hessian and
 * gradient by numeric differences, solved by a general-purpose linear solver. The energy is a
 * quadratic, so differences of any step are exact but for rounding. Unknowns are heights and
 * slopes of the two axles, not heave, pitch and roll.
 */

const WHEELS = ['LF', 'RF', 'LR', 'RR'] as const;

/** Energy at (height of the front axle's middle, of the rear's, roll of each), pads at z. */
const energy = (
  of: StandingCar,
  supports: Supports,
  z: readonly number[],
  from: readonly number[] | null,
  x: readonly number[],
): number => {
  const { car } = of;
  const [uf = 0, ur = 0, rollF = 0, rollR = rollF] = x;
  const body = [
    uf + (rollF * car.trackFront) / 2,
    uf - (rollF * car.trackFront) / 2,
    ur + (rollR * car.trackRear) / 2,
    ur - (rollR * car.trackRear) / 2,
  ];
  let sum = 0;
  WHEELS.forEach((wheel, i) => {
    const squeeze = supports.seats[wheel] + (z[i] as number) - (body[i] as number);
    sum += 0.5 * car.wheelRates[wheel] * squeeze ** 2;
  });
  if (supports.bars === 'on') {
    const between = (a: number, b: number): number =>
      (z[a] as number) - (body[a] as number) - (z[b] as number) + (body[b] as number);
    sum += 0.5 * car.barFront * between(0, 1) ** 2 + 0.5 * car.barRear * between(2, 3) ** 2;
  }
  if (car.chassisStiffness !== null) sum += 0.5 * car.chassisStiffness * (rollF - rollR) ** 2;
  // A turned lump's centre of gravity sinks by h(1 − cos) ≈ h·angle²/2, measured from the
  // reference.
  const h = from === null ? 0 : (car.cgHeight ?? 0);
  const [uf0 = 0, ur0 = 0, rollF0 = 0, rollR0 = rollF0] = from ?? [];
  const pitch = (ur - uf - (ur0 - uf0)) / car.wheelbase;
  const front = of.mass * of.frontShare * of.gravity;
  const rear = of.mass * (1 - of.frontShare) * of.gravity;
  sum += front * (uf + of.cgLeft * rollF - (h / 2) * (pitch ** 2 + (rollF - rollF0) ** 2));
  sum += rear * (ur + of.cgLeft * rollR - (h / 2) * (pitch ** 2 + (rollR - rollR0) ** 2));
  return sum;
};

/** Where the energy has no slope, by mathjs. */
const rest = (of: StandingCar, supports: Supports, from: readonly number[] | null): number[] => {
  const n = of.car.chassisStiffness === null ? 3 : 4;
  const z = WHEELS.map((wheel) => supports.pads[wheel]);
  const at = (...steps: readonly [number, number][]): number => {
    const x = Array.from({ length: n }, () => 0);
    for (const [index, step] of steps) x[index] = (x[index] as number) + step;
    return energy(of, supports, z, from, x);
  };
  const axes = Array.from({ length: n }, (_, index) => index);
  const hessian = axes.map((i) =>
    axes.map(
      (j) =>
        (at([i, 1], [j, 1]) - at([i, 1], [j, -1]) - at([i, -1], [j, 1]) + at([i, -1], [j, -1])) / 4,
    ),
  );
  const slope = axes.map((i) => (at([i, 1]) - at([i, -1])) / 2);
  const solved: unknown = lusolve(
    hessian,
    slope.map((value) => -value),
  );
  if (!Array.isArray(solved)) throw new TypeError('the solver did not answer an array');
  return solved.map((row: unknown) => Number(Array.isArray(row) ? row[0] : row));
};

/** Loads as the energy's slope against each pad's height, and the rise over each wheel. */
export const byEnergy = (of: StandingCar, supports: Supports): Statics => {
  const level: PerCorner<number> = { LF: 0, RF: 0, LR: 0, RR: 0 };
  const from = rest(of, { seats: level, pads: level, bars: 'off' }, null);
  const x = rest(of, supports, from);
  const z = WHEELS.map((wheel) => supports.pads[wheel]);
  const moved = (index: number, by: number): number =>
    energy(
      of,
      supports,
      z.map((value, i) => (i === index ? value + by : value)),
      from,
      x,
    );
  const over = (q: readonly number[], i: number): number => {
    const [uf = 0, ur = 0, rollF = 0, rollR = rollF] = q;
    const half = (i % 2 === 0 ? 0.5 : -0.5) * (i < 2 ? of.car.trackFront : of.car.trackRear);
    return i < 2 ? uf + half * rollF : ur + half * rollR;
  };
  return {
    loads: perCorner((_, i) => newton((moved(i, 0.1) - moved(i, -0.1)) / 0.2)),
    rise: perCorner((_, i) => metre(over(x, i) - over(from, i))),
  };
};

/**
 * mulberry32 (public domain, Tommy Ettinger): seeds of the tests, apart from the rig's own
 * generator.
 */
const mulberry32 = (seed: number): (() => number) => {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
};

/** A car as a seed makes it: three in four with a height, half with twist, half with bars on. */
export const randomStanding = (
  seed: number,
): { readonly of: StandingCar; readonly supports: Supports } => {
  const random = mulberry32(seed * 7919);
  const between = (low: number, high: number): number => low + (high - low) * random();
  const corners = (low: number, high: number) => perCorner(() => between(low, high));
  const car: Car = {
    ...EXAMPLE_CAR,
    wheelbase: between(2.2, 3.2),
    trackFront: between(1.3, 1.8),
    trackRear: between(1.3, 1.8),
    cgHeight: seed % 4 === 0 ? null : between(0.25, 0.6),
    wheelRates: { ...corners(80e3, 260e3) },
    barFront: between(0, 120e3),
    barRear: between(0, 80e3),
    chassisStiffness: seed % 2 === 0 ? null : between(2e5, 3e6),
  };
  return {
    of: {
      car,
      mass: kilogram(between(600, 1600)),
      frontShare: between(0.4, 0.6),
      cgLeft: metre(between(-0.03, 0.03)),
      gravity: metrePerSecond2(between(9.78, 9.83)),
    },
    supports: {
      seats: corners(-1.5e-3, 1.5e-3),
      pads: corners(-1e-3, 1e-3),
      bars: seed % 3 === 0 ? 'on' : 'off',
    },
  };
};
