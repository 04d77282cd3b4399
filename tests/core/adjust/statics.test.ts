import { describe, expect, test } from 'vitest';
import {
  statics,
  type StandingCar,
  type Statics,
  type Supports,
} from '../../../core/adjust/statics.ts';
import { warpLoadChange } from '../../../core/adjust/warp.ts';
import { CORNERS, inOrder, perCorner, type Corner, type PerCorner } from '../../../core/corners.ts';
import { EXAMPLE_CAR, EXAMPLE_CAR_MASS, type Car } from '../../../core/sheet/car.ts';
import { kilogram, metre, STANDARD_GRAVITY } from '../../../core/units.ts';
import { byEnergy, randomStanding } from './byEnergy.ts';

const NONE: PerCorner<number> = { LF: 0, RF: 0, LR: 0, RR: 0 };
const DEGREE = Math.PI / 180;

const standing = (car: Car): StandingCar => ({
  car,
  mass: kilogram(EXAMPLE_CAR_MASS.mass),
  frontShare: EXAMPLE_CAR_MASS.frontShare,
  cgLeft: metre(EXAMPLE_CAR_MASS.cgLeft),
  gravity: STANDARD_GRAVITY,
});
const NO_HEIGHT: Car = { ...EXAMPLE_CAR, cgHeight: null };
const ground: Supports = { seats: NONE, pads: NONE, bars: 'off' };

const change = (
  of: StandingCar,
  what: 'seats' | 'pads',
  heights: Partial<Record<Corner, number>>,
  bars: Supports['bars'] = 'off',
): {
  readonly newtons: readonly number[];
  readonly kg: readonly number[];
  readonly mm: readonly number[];
} => {
  const before = statics(of, { ...ground, bars });
  const after = statics(of, { ...ground, bars, [what]: { ...NONE, ...heights } });
  const newtons = CORNERS.map((corner) => after.loads[corner] - before.loads[corner]);
  return {
    newtons,
    kg: newtons.map((value) => value / STANDARD_GRAVITY),
    mm: CORNERS.map((corner) => (after.rise[corner] - before.rise[corner]) * 1e3),
  };
};
const near = (found: readonly number[], wanted: readonly number[], within: number): void => {
  found.forEach((value, index) => {
    const target = wanted[index] as number;
    expect(Math.abs(value - target), `${index}: ${value}, wanted ${target}`).toBeLessThanOrEqual(
      within,
    );
  });
};

describe('the example car (check values of the design, 6.1 and 6.2)', () => {
  test('perches level, with and without the height of the centre of gravity', () => {
    for (const car of [EXAMPLE_CAR, NO_HEIGHT]) {
      const { loads, rise } = statics(standing(car), ground);
      near(
        inOrder(loads).map((load) => load / STANDARD_GRAVITY),
        [312.411, 307.464, 344.789, 340.336],
        5.01e-4,
      );
      near(inOrder(rise), [0, 0, 0, 0], 1e-15);
    }
  });

  test('right front seat up 1 mm: loads, and what the body does', () => {
    const found = change(standing(NO_HEIGHT), 'seats', { RF: 1e-3 });
    near(found.newtons, [-42.235, 42.235, 43.003, -43.003], 5e-4);
    near(found.mm, [0.235, 0.765, -0.261, 0.261], 5e-4);
  });

  test('chassis torsional stiffness 25 kN·m/deg', () => {
    const soft = { ...NO_HEIGHT, chassisStiffness: 25e3 / DEGREE };
    const found = change(standing(soft), 'seats', { RF: 1e-3 });
    near(found.newtons, [-38.99, 38.99, 39.699, -39.699], 5e-4);
  });

  test.each([
    ['60 N/mm', 60e3, 3.181, 5.302],
    ['120 N/mm', 120e3, 2.522, 5.885],
  ] as const)('front bar %s: a seat and a pad differ', (_, barFront, seat, pad) => {
    const car = standing({ ...NO_HEIGHT, barFront });
    near(change(car, 'seats', { RF: 1e-3 }, 'on').kg.slice(0, 2), [-seat, seat], 5e-4);
    near(change(car, 'pads', { RF: 1e-3 }, 'on').kg.slice(0, 2), [-pad, pad], 5e-4);
  });

  test('loads cannot name the corner, one ride height can', () => {
    const car = standing(NO_HEIGHT);
    const rf = change(car, 'seats', { RF: 1e-3 });
    const lr = change(car, 'seats', { LR: 1e-3 });
    rf.newtons.forEach((value, index) => {
      expect(Math.abs((lr.newtons[index] as number) / value - 1)).toBeLessThan(0.02);
    });
    const rfHeights = change(standing(EXAMPLE_CAR), 'seats', { RF: 1e-3 }).mm;
    const lrHeights = change(standing(EXAMPLE_CAR), 'seats', { LR: 1e-3 }).mm;
    near([rfHeights[1] as number, rfHeights[2] as number], [0.77, -0.26], 0.005);
    near([lrHeights[1] as number, lrHeights[2] as number], [-0.24, 0.74], 0.005);
  });

  test('a patch that is not level: 0.2 kg side to side, 0.08 kg front to rear per mm', () => {
    const car = standing(EXAMPLE_CAR);
    const side = change(car, 'pads', { LF: 1e-3, LR: 1e-3 }).kg;
    near([(side[0] as number) + (side[2] as number)], [-0.2], 0.005);
    const end = change(car, 'pads', { LF: 1e-3, RF: 1e-3 }).kg;
    near([(end[0] as number) + (end[1] as number)], [-0.08], 0.005);
  });
});

describe('ground slope of a rigid car (reference values 5.4, derived there from moments)', () => {
  const rigid: StandingCar = {
    car: {
      ...EXAMPLE_CAR,
      wheelbase: 2.6,
      trackFront: 1.5,
      trackRear: 1.5,
      cgHeight: 0.45,
      barFront: 0,
      wheelRates: { LF: 1e10, RF: 1e10, LR: 1e10, RR: 1e10 },
    },
    mass: kilogram(1200),
    frontShare: 0.5,
    cgLeft: metre(0),
    gravity: STANDARD_GRAVITY,
  };
  test.each([
    [0.1, 0.36249, 0.62832, 4.538e-3, 2.618e-3],
    [0.5, 1.81243, 3.14155, 22.69e-3, 13.09e-3],
    [1.0, 3.62473, 6.28287, 45.383e-3, 26.183e-3],
  ])('%s degrees', (degrees, alongKg, acrossKg, riseOverL, riseOverT) => {
    // Statics is linear in the angle; the table has sin θ and pads square to the slope: θ²/2 apart.
    const within = (degrees * DEGREE) ** 2 / 2 + 2e-4;
    const along = change(rigid, 'pads', { LF: riseOverL, RF: riseOverL }).kg;
    const across = change(rigid, 'pads', { LF: riseOverT, LR: riseOverT }).kg;
    const toRear = (along[2] as number) + (along[3] as number);
    const toRight = (across[1] as number) + (across[3] as number);
    expect(Math.abs(toRear / alongKg - 1)).toBeLessThan(within);
    expect(Math.abs(toRight / acrossKg - 1)).toBeLessThan(within);
  });

  test('5 mm over the wheelbase moves 0.39941 kg, over the track 1.2 kg', () => {
    const along = change(rigid, 'pads', { LF: 5e-3, RF: 5e-3 }).kg;
    const across = change(rigid, 'pads', { LF: 5e-3, LR: 5e-3 }).kg;
    expect((along[2] as number) + (along[3] as number)).toBeCloseTo(0.39941, 5);
    expect((across[1] as number) + (across[3] as number)).toBeCloseTo(1.2, 4);
  });
});

describe('four-support indeterminacy with a bar (reference values 5.6, derived by brute force)', () => {
  const car = standing({
    ...NO_HEIGHT,
    trackFront: 1.54,
    trackRear: 1.5,
    wheelRates: { LF: 30e3, RF: 30e3, LR: 35e3, RR: 35e3 },
    barFront: 20e3,
  });
  test('a pad 5 mm up', () => {
    const { kg, newtons } = change(car, 'pads', { LF: 5e-3 }, 'on');
    near(kg, [5.7414811, -5.7414811, -5.8945873, 5.8945873], 1e-7);
    expect((newtons[0] as number) * 1.54).toBeCloseTo(86.709232, 5);
    expect((kg[1] as number) + (kg[2] as number)).toBeCloseTo(-11.6360684, 6);
  });
  test('the same 5 mm at a perch', () => {
    expect(change(car, 'seats', { LF: 5e-3 }, 'on').kg[0]).toBeCloseTo(2.461, 3);
  });
});

describe('against independent solutions', () => {
  test('a general-purpose linear solver on a numerically differentiated energy, 200 cars', () => {
    for (let seed = 1; seed <= 200; seed += 1) {
      const { of, supports } = randomStanding(seed);
      const found = statics(of, supports);
      const wanted = byEnergy(of, supports);
      for (const corner of CORNERS) {
        expect(Math.abs(found.loads[corner] - wanted.loads[corner]), `seed ${seed}`).toBeLessThan(
          1e-5,
        );
        expect(Math.abs(found.rise[corner] - wanted.rise[corner]), `seed ${seed}`).toBeLessThan(
          1e-10,
        );
      }
    }
  });

  test('the closed form, bars off and no height, 200 cars', () => {
    for (let seed = 1; seed <= 200; seed += 1) {
      const { of, supports } = randomStanding(seed);
      const flat = { ...of, car: { ...of.car, cgHeight: null } };
      const before = statics(flat, ground).loads;
      const after = statics(flat, { ...supports, bars: 'off' }).loads;
      const wanted = warpLoadChange(of.car, supports.seats, supports.pads);
      for (const corner of CORNERS)
        expect(
          Math.abs(after[corner] - before[corner] - wanted[corner]),
          `seed ${seed}`,
        ).toBeLessThan(1e-7);
    }
  });

  test('the loads carry the car: sum and both moments, 200 cars', () => {
    for (let seed = 1; seed <= 200; seed += 1) {
      const { of, supports } = randomStanding(seed);
      const flat = { ...of, car: { ...of.car, cgHeight: null } };
      const [lf, rf, lr, rr] = inOrder(statics(flat, supports).loads);
      const weight = of.mass * of.gravity;
      expect((lf + rf + lr + rr) / weight).toBeCloseTo(1, 10);
      expect((lf + rf) / weight).toBeCloseTo(of.frontShare, 10);
      const left = ((lf - rf) * of.car.trackFront + (lr - rr) * of.car.trackRear) / 2;
      expect(left / weight).toBeCloseTo(of.cgLeft, 10);
    }
  });
});

describe('properties', () => {
  const mirrored = <T>(v: PerCorner<T>): PerCorner<T> => ({
    LF: v.RF,
    RF: v.LF,
    LR: v.RR,
    RR: v.LR,
  });
  const apart = (a: Statics, b: Statics): number =>
    Math.max(...CORNERS.map((corner) => Math.abs(a.loads[corner] - b.loads[corner])));

  test('mirroring left and right mirrors the loads', () => {
    for (let seed = 1; seed <= 50; seed += 1) {
      const { of, supports } = randomStanding(seed);
      const mirror = statics(
        {
          ...of,
          cgLeft: metre(-of.cgLeft),
          car: { ...of.car, wheelRates: { ...mirrored(of.car.wheelRates) } },
        },
        { ...supports, seats: mirrored(supports.seats), pads: mirrored(supports.pads) },
      );
      const found = statics(of, supports);
      expect(apart({ ...mirror, loads: mirrored(mirror.loads) }, found)).toBeLessThan(1e-7);
    }
  });

  test('a very stiff chassis is a rigid one', () => {
    const supports: Supports = { ...ground, seats: { ...NONE, RF: 2e-3 } };
    const rigid = statics(standing(EXAMPLE_CAR), supports);
    const stiff = statics(standing({ ...EXAMPLE_CAR, chassisStiffness: 1e12 }), supports);
    expect(apart(rigid, stiff)).toBeLessThan(1e-3);
  });

  test('raising all pads alike changes no load and lifts the body by as much', () => {
    const up = perCorner(() => 3e-3);
    const found = statics(standing(EXAMPLE_CAR), { ...ground, pads: up });
    expect(apart(found, statics(standing(EXAMPLE_CAR), ground))).toBeLessThan(1e-8);
    near(inOrder(found.rise), [3e-3, 3e-3, 3e-3, 3e-3], 1e-14);
  });

  test('what no car can be is refused', () => {
    const top = { ...EXAMPLE_CAR, cgHeight: 3, wheelRates: { LF: 1e3, RF: 1e3, LR: 1e3, RR: 1e3 } };
    expect(() => statics(standing(top), ground)).toThrow(RangeError);
    expect(() => statics({ ...standing(EXAMPLE_CAR), frontShare: 1 }, ground)).toThrow(RangeError);
    expect(() => statics({ ...standing(EXAMPLE_CAR), mass: kilogram(0) }, ground)).toThrow(
      RangeError,
    );
  });
});
