import { describe, expect, test } from 'vitest';
import { statics } from '../../../core/adjust/statics.ts';
import { warpLoadChange } from '../../../core/adjust/warp.ts';
import { CORNERS, inOrder, perCorner, type PerCorner } from '../../../core/corners.ts';
import { EXAMPLE_CAR, EXAMPLE_CAR_MASS } from '../../../core/sheet/car.ts';
import { everyCorner, USUAL_DAMPING, type CarBuild } from '../../../drivers/pads/rig/carBuild.ts';
import { createCarDynamics, type CarDynamics } from '../../../drivers/pads/rig/carDynamics.ts';
import { randomStanding } from '../../core/adjust/byEnergy.ts';

const build = (over: Partial<CarBuild> = {}): CarBuild => ({
  car: EXAMPLE_CAR,
  mass: EXAMPLE_CAR_MASS,
  bars: 'off',
  gravity: 9.81,
  friction: everyCorner(0),
  relaxing: everyCorner(0),
  damping: USUAL_DAMPING,
  ...over,
});
const run = (car: CarDynamics, seconds: number, each: () => void = () => undefined): void => {
  const steps = Math.round(seconds / car.step);
  for (let i = 0; i < steps; i += 1) {
    car.advance();
    each();
  }
};
const push = (car: CarDynamics, force: number, x: number, y: number): void => {
  car.push.set([force, x, y]);
};
const NONE: PerCorner<number> = everyCorner(0);

describe('at rest, without friction', () => {
  test('it agrees with the full statics to 0.01 N: 60 cars with bars, twist and height by seed', () => {
    for (let seed = 1; seed <= 60; seed += 1) {
      const { of, supports } = randomStanding(seed);
      const car = createCarDynamics(
        build({
          car: of.car,
          mass: { mass: of.mass, frontShare: of.frontShare, cgLeft: of.cgLeft },
          bars: supports.bars,
          gravity: of.gravity,
          relaxing: everyCorner(0.03),
        }),
      );
      car.seats.set(inOrder(supports.seats));
      car.pads.set(inOrder(supports.pads));
      run(car, 25);
      const wanted = statics(of, supports);
      CORNERS.forEach((corner, i) => {
        expect(
          Math.abs((car.loads[i] as number) - wanted.loads[corner]),
          `seed ${seed} ${corner}`,
        ).toBeLessThan(0.01);
        expect(Math.abs(car.rise(i) - wanted.rise[corner]), `seed ${seed} ${corner}`).toBeLessThan(
          1e-7,
        );
      });
    }
  });

  test('it agrees with the closed form where the height is not given: 20 cars', () => {
    for (let seed = 1; seed <= 20; seed += 1) {
      const { of, supports } = randomStanding(seed);
      const car = createCarDynamics(
        build({
          car: { ...of.car, cgHeight: null },
          mass: { mass: of.mass, frontShare: of.frontShare, cgLeft: of.cgLeft },
          gravity: of.gravity,
        }),
      );
      run(car, 1);
      const before = Float64Array.from(car.loads);
      car.seats.set(inOrder(supports.seats));
      car.pads.set(inOrder(supports.pads));
      run(car, 15);
      const wanted = warpLoadChange(of.car, supports.seats, supports.pads);
      CORNERS.forEach((corner, i) => {
        const change = (car.loads[i] as number) - (before[i] as number);
        expect(Math.abs(change - wanted[corner]), `seed ${seed} ${corner}`).toBeLessThan(0.01);
      });
    }
  });

  test('a push on the wing arrives on the pads as force and as moments', () => {
    const car = createCarDynamics(build({ car: { ...EXAMPLE_CAR, cgHeight: null } }));
    run(car, 1);
    const before = Float64Array.from(car.loads);
    push(car, 200, -3.15, 0.25);
    run(car, 15);
    const [lf = 0, rf = 0, lr = 0, rr = 0] = car.loads.map(
      (load, i) => load - (before[i] as number),
    );
    expect(lf + rf + lr + rr).toBeCloseTo(200, 6);
    expect((lr + rr) * EXAMPLE_CAR.wheelbase).toBeCloseTo(200 * 3.15, 6);
    const side = ((lf - rf) * EXAMPLE_CAR.trackFront + (lr - rr) * EXAMPLE_CAR.trackRear) / 2;
    expect(side).toBeCloseTo(200 * 0.25, 6);
  });
});

describe('energy', () => {
  const kicked = (damping: CarBuild['damping'], friction: number): CarDynamics => {
    const twisty = { ...EXAMPLE_CAR, chassisStiffness: 1.2e6 };
    const car = createCarDynamics(
      build({ car: twisty, damping, friction: everyCorner(friction), bars: 'on' }),
    );
    push(car, 900, -1.9, 0.5);
    run(car, 0.15);
    push(car, 0, 0, 0);
    return car;
  };

  test('does not grow in a minute where nothing damps', () => {
    const rigid = { ...EXAMPLE_CAR, chassisStiffness: null };
    const car = createCarDynamics(build({ car: rigid, damping: { bump: 0, rebound: 0 } }));
    const atRest = car.energy();
    push(car, 900, -1.9, 0.5);
    run(car, 0.15);
    push(car, 0, 0, 0);
    const mean = (seconds: number): number => {
      let sum = 0;
      let count = 0;
      run(car, seconds, () => {
        sum += car.energy() - atRest;
        count += 1;
      });
      return sum / count;
    };
    const first = mean(5);
    run(car, 50);
    const last = mean(5);
    expect(first).toBeGreaterThan(0.1);
    expect(Math.abs(last / first - 1)).toBeLessThan(0.005);
  });

  test('only falls with dampers and friction, and ends at rest', () => {
    const car = kicked(USUAL_DAMPING, 20);
    const start = car.energy();
    let highest = start;
    let rises = 0;
    let before = start;
    run(car, 20, () => {
      const now = car.energy();
      highest = Math.max(highest, now);
      rises = Math.max(rises, now - before);
      before = now;
    });
    const lost = start - before;
    expect(lost).toBeGreaterThan(0.1);
    expect(highest).toBe(start);
    // Semi-implicit steps swing the energy by a share of step · frequency, here under a per mille.
    expect(rises).toBeLessThan(lost * 1e-3);
    expect(car.speed()).toBeLessThan(1e-9);
  });
});

describe('friction', () => {
  const settled = (from: 'above' | 'below', friction: number): Float64Array => {
    const car = createCarDynamics(build({ friction: everyCorner(friction) }));
    run(car, 1);
    // The right front seat comes to the same place from above or from below.
    const way = from === 'above' ? 3e-3 : -3e-3;
    for (let left = 1; left >= 0; left -= 0.002) {
      car.seats[1] = way * left;
      run(car, 0.01);
    }
    car.seats.set(inOrder(NONE));
    run(car, 8);
    expect(car.speed()).toBeLessThan(1e-9);
    return car.loads;
  };

  test('makes the resting load depend on how it got there', () => {
    const above = settled('above', 20);
    const below = settled('below', 20);
    // Coming down the struts LF, RF, RR close and LR opens (the body's heights of the design, 6.2),
    // coming up the reverse: ±20 N each, of which the warp keeps Σ n_j f_j/k_j over Σ n_j²/k_j.
    const ratio = EXAMPLE_CAR.trackFront / EXAMPLE_CAR.trackRear;
    const kept = (20 * 2 * (ratio / 165e3)) / (2 / 180e3 + (2 * ratio ** 2) / 165e3);
    const found = (above[0] as number) - (below[0] as number);
    expect(Math.abs(found / (2 * kept) - 1), `${found} N`).toBeLessThan(0.05);
    expect(above.reduce((a, b) => a + b)).toBeCloseTo(
      below.reduce((a, b) => a + b),
      4,
    );
  });

  test('without it the way does not matter', () => {
    const above = settled('above', 0);
    const below = settled('below', 0);
    above.forEach((load, i) => expect(load).toBeCloseTo(below[i] as number, 5));
  });
});

describe('how it moves', () => {
  /** Lets go of a steady push and follows one measure of the body's motion about its rest. */
  const release = (
    damping: CarBuild['damping'],
    at: readonly [number, number],
    measure: (car: CarDynamics) => number,
  ): { readonly frequency: number; readonly overshoot: number } => {
    const car = createCarDynamics(build({ damping: USUAL_DAMPING }));
    run(car, 1);
    const rest = measure(car);
    push(car, 400, at[0], at[1]);
    run(car, 5);
    const free = createCarDynamics(build({ damping }));
    run(free, 1);
    push(free, 400, at[0], at[1]);
    if (damping === USUAL_DAMPING) run(free, 5);
    const start = measure(car) - rest;
    push(free, 0, 0, 0);
    if (damping !== USUAL_DAMPING) {
      // Without dampers there is no coming to rest under the push: begin with a short one.
      push(free, 400, at[0], at[1]);
      run(free, 0.02);
      push(free, 0, 0, 0);
    }
    let crossings = 0;
    let first = 0;
    let last = 0;
    let t = 0;
    let side = 0;
    let farthest = 0;
    run(free, 6, () => {
      t += free.step;
      const now = measure(free) - rest;
      farthest = Math.max(farthest, -now * Math.sign(start));
      if (side !== 0 && Math.sign(now) !== side) {
        if (crossings === 0) first = t;
        last = t;
        crossings += 1;
      }
      side = Math.sign(now);
    });
    return {
      frequency: (crossings - 1) / 2 / (last - first),
      overshoot: farthest / Math.abs(start),
    };
  };
  const overshootAt = (ratio: number): number =>
    Math.exp((-Math.PI * ratio) / Math.sqrt(1 - ratio ** 2));

  test.each([
    ['front', [0, 0], (car: CarDynamics) => car.rise(0) + car.rise(1)],
    ['rear', [-2.7, 0], (car: CarDynamics) => car.rise(2) + car.rise(3)],
    [
      'roll',
      [-1.4, 0.8],
      (car: CarDynamics) => car.rise(0) - car.rise(1) + car.rise(2) - car.rise(3),
    ],
  ] as const)('%s: 2 to 5 Hz, damping ratio 0.3 to 0.8', (_, at, measure) => {
    const { frequency } = release({ bump: 0, rebound: 0 }, at, measure);
    expect(frequency).toBeGreaterThan(2);
    expect(frequency).toBeLessThan(5);
    const { overshoot } = release(USUAL_DAMPING, at, measure);
    expect(overshoot).toBeLessThan(overshootAt(0.3));
    expect(overshoot).toBeGreaterThan(overshootAt(0.8));
  });

  test('a chassis stiffer than the integrator can follow is taken as rigid and stays stable', () => {
    const car = createCarDynamics(build({ car: { ...EXAMPLE_CAR, chassisStiffness: 1e13 } }));
    car.seats.set([1e-3, 0, 0, 0]);
    run(car, 10);
    const rigid = createCarDynamics(build());
    rigid.seats.set([1e-3, 0, 0, 0]);
    run(rigid, 10);
    perCorner((_, i) => expect(car.loads[i]).toBeCloseTo(rigid.loads[i] as number, 6));
  });
});
