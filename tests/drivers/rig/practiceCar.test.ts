import { describe, expect, test } from 'vitest';
import { statics } from '../../../core/adjust/statics.ts';
import { warpLoadChange } from '../../../core/adjust/warp.ts';
import { CORNERS, inOrder } from '../../../core/corners.ts';
import { EXAMPLE_CAR, EXAMPLE_CAR_MASS } from '../../../core/sheet/car.ts';
import { kilogram, metre, metrePerSecond2 } from '../../../core/units.ts';
import { everyCorner } from '../../../drivers/pads/rig/carBuild.ts';
import {
  createPracticeCar,
  type PracticeCar,
  type PracticeCarOptions,
} from '../../../drivers/pads/rig/practiceCar.ts';
import { createRandom } from '../../../drivers/pads/rig/random.ts';

const GRAVITY = 9.81;
const make = (seed: number, over: Partial<PracticeCarOptions> = {}): PracticeCar =>
  createPracticeCar({
    car: EXAMPLE_CAR,
    mass: EXAMPLE_CAR_MASS,
    bars: 'off',
    gravity: GRAVITY,
    padHeights: everyCorner(0),
    seatsBefore: everyCorner(0),
    friction: 20,
    random: createRandom(seed),
    ...over,
  });
const run = (car: PracticeCar, seconds: number, each: () => void = () => undefined): void => {
  const steps = Math.round(seconds / car.dynamics.step);
  for (let i = 0; i < steps; i += 1) {
    car.advance();
    each();
  }
};
const total = (car: PracticeCar): number => car.dynamics.loads.reduce((a, b) => a + b);
const WEIGHT = EXAMPLE_CAR_MASS.mass * GRAVITY;

describe('the jack', () => {
  test('begins raised with nothing on the pads, lowers in about 3 s, and raises to exactly nothing', () => {
    const car = make(1);
    expect(car.state().car).toBe('raised');
    run(car, 2, () => expect(Math.max(...car.dynamics.loads)).toBe(0));
    car.lower();
    let took = 0;
    while (car.state().car !== 'on the pads') {
      expect(car.state().car).toBe('lowering');
      run(car, 0.01);
      took += 0.01;
    }
    expect(took).toBeGreaterThan(2.5);
    expect(took).toBeLessThan(3.5);
    run(car, 12);
    expect(total(car)).toBeCloseTo(WEIGHT, 3);
    car.raise();
    expect(car.state().car).toBe('raising');
    run(car, 6);
    expect(car.state().car).toBe('raised');
    run(car, 1, () => expect([...car.dynamics.loads]).toEqual([0, 0, 0, 0]));
  });

  test('no load is ever below zero or makes a jump of more than a firm touch-down', () => {
    const car = make(2);
    car.lower();
    let before = Float64Array.from(car.dynamics.loads);
    run(car, 8, () => {
      car.dynamics.loads.forEach((load, i) => {
        expect(load).toBeGreaterThanOrEqual(0);
        expect(Math.abs(load - (before[i] as number))).toBeLessThan(400);
      });
      before = Float64Array.from(car.dynamics.loads);
    });
  });

  test('turns back half way', () => {
    const car = make(3);
    car.lower();
    run(car, 1.5);
    car.raise();
    run(car, 5);
    expect(car.state().car).toBe('raised');
    expect([...car.dynamics.loads]).toEqual([0, 0, 0, 0]);
  });

  test('a lowered car rocks, calms and stands still', () => {
    const car = make(4);
    car.lower();
    run(car, 3.5);
    const swing = (seconds: number): number => {
      let low = Infinity;
      let high = -Infinity;
      run(car, seconds, () => {
        low = Math.min(low, car.dynamics.loads[0] as number);
        high = Math.max(high, car.dynamics.loads[0] as number);
      });
      return high - low;
    };
    const early = swing(1);
    run(car, 7);
    expect(early).toBeGreaterThan(10 * swing(1));
    expect(car.dynamics.speed()).toBeLessThan(1e-6);
  });

  test('lowerings of one car scatter by some tenths of a kilogram; without friction not at all', () => {
    const settle = (friction: number): number[] => {
      const car = make(5, { friction });
      return Array.from({ length: 12 }, () => {
        car.lower();
        run(car, 14);
        const load = car.dynamics.loads[0] as number;
        car.raise();
        run(car, 5);
        return load / GRAVITY;
      });
    };
    const sd = (values: readonly number[]): number => {
      const mean = values.reduce((a, b) => a + b) / values.length;
      return Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (values.length - 1));
    };
    expect(sd(settle(20))).toBeGreaterThan(0.05);
    expect(sd(settle(20))).toBeLessThan(0.5);
    expect(sd(settle(0))).toBeLessThan(1e-6);
  });
});

describe('perches', () => {
  test('right front up one turn moves the loads along the warp, sign and size within 1 %', () => {
    for (const seed of [1, 2, 3]) {
      const car = make(seed, { friction: 0, car: { ...EXAMPLE_CAR, cgHeight: null } });
      car.lower();
      run(car, 12);
      const before = Float64Array.from(car.dynamics.loads);
      car.turn('RF', 1);
      run(car, 14);
      const up = EXAMPLE_CAR.perchPitch / EXAMPLE_CAR.motionRatios.RF;
      const wanted = inOrder(
        warpLoadChange(EXAMPLE_CAR, { ...everyCorner(0), RF: up }, everyCorner(0)),
      );
      wanted.forEach((value, i) => {
        const change = (car.dynamics.loads[i] as number) - (before[i] as number);
        expect(Math.abs(change / value - 1), `seed ${seed}, ${CORNERS[i]}`).toBeLessThan(0.01);
      });
      expect(car.state().turns).toEqual({ LF: 0, RF: 1, LR: 0, RR: 0 });
      expect(car.seats().RF).toBeCloseTo(up, 15);
    }
  });

  test('turned while raised, it shows after lowering, and the whole agrees with the statics', () => {
    const padHeights = { LF: 1e-4, RF: -0.5e-4, LR: 0, RR: 0.8e-4 };
    const car = make(6, { friction: 0, padHeights, bars: 'on' });
    car.turn('LR', -1.5);
    run(car, 6);
    car.lower();
    run(car, 16);
    const { loads } = statics(
      {
        car: EXAMPLE_CAR,
        mass: kilogram(EXAMPLE_CAR_MASS.mass),
        frontShare: EXAMPLE_CAR_MASS.frontShare,
        cgLeft: metre(EXAMPLE_CAR_MASS.cgLeft),
        gravity: metrePerSecond2(GRAVITY),
      },
      {
        seats: {
          ...everyCorner(0),
          LR: (-1.5 * EXAMPLE_CAR.perchPitch) / EXAMPLE_CAR.motionRatios.LR,
        },
        pads: padHeights,
        bars: 'on',
      },
    );
    CORNERS.forEach((corner, i) => expect(car.dynamics.loads[i]).toBeCloseTo(loads[corner], 2));
  });

  test('with friction a turn still moves the loads the right way, within a fifth', () => {
    const car = make(7);
    car.lower();
    run(car, 12);
    const before = car.dynamics.loads[1] as number;
    car.turn('RF', 1);
    run(car, 12);
    const change = (car.dynamics.loads[1] as number) - before;
    expect(change).toBeGreaterThan(0.8 * 66.7);
    expect(change).toBeLessThan(1.2 * 66.7);
  });

  test('a turn that is no number is refused', () => {
    expect(() => make(1).turn('LF', NaN)).toThrow(RangeError);
  });
});

describe('somebody leaning', () => {
  test('adds some hundred newton at the rear that never stand quite still, and goes again', () => {
    const car = make(8);
    car.lower();
    run(car, 12);
    const before = total(car);
    const rearBefore = (car.dynamics.loads[2] as number) + (car.dynamics.loads[3] as number);
    car.lean(true);
    run(car, 3);
    const seen: number[] = [];
    run(car, 10, () => seen.push(total(car) - before));
    const mean = seen.reduce((a, b) => a + b) / seen.length;
    expect(mean).toBeGreaterThan(100);
    expect(mean).toBeLessThan(300);
    expect(Math.max(...seen) - Math.min(...seen)).toBeGreaterThan(5);
    expect(
      (car.dynamics.loads[2] as number) + (car.dynamics.loads[3] as number) - rearBefore,
    ).toBeGreaterThan(mean);
    car.lean(false);
    run(car, 10);
    expect(total(car)).toBeCloseTo(WEIGHT, 3);
  });
});
