import RAPIER from '@dimforge/rapier3d-compat';
import { beforeAll, describe, expect, test } from 'vitest';
import { statics, type Supports } from '../../../core/adjust/statics.ts';
import { CORNERS, type PerCorner } from '../../../core/corners.ts';
import { EXAMPLE_CAR, type Car } from '../../../core/sheet/car.ts';
import { STANDARD_GRAVITY } from '../../../core/units.ts';
import { standingCar } from './exampleAdjust.ts';

/**
 * The car as a general-purpose rigid-body engine settles it: one body, four vertical springs on the
 * pads and dampers beside them, gravity, nothing linearised. Only the engine's own integrator finds
 * the rest, sag and all; the loads are read off the springs there. Of the statics only the names are
 * used.
 */

const WHEELS = (car: Car): PerCorner<readonly [number, number]> => ({
  LF: [0, car.trackFront / 2],
  RF: [0, -car.trackFront / 2],
  LR: [-car.wheelbase, car.trackRear / 2],
  RR: [-car.wheelbase, -car.trackRear / 2],
});

const settle = (car: Car, supports: Supports): { loads: number[]; over: number[] } => {
  const of = standingCar(car);
  const height = car.cgHeight ?? 0.43;
  const x = -(1 - of.frontShare) * car.wheelbase;
  const y = of.cgLeft;
  const world = new RAPIER.World({ x: 0, y: 0, z: -of.gravity });
  world.timestep = 1 / 1000;
  const body = world.createRigidBody(
    RAPIER.RigidBodyDesc.dynamic()
      .setTranslation(x, y, height)
      .setCanSleep(false)
      .setAdditionalMassProperties(
        of.mass,
        { x: 0, y: 0, z: 0 },
        { x: 400, y: 1700, z: 1900 },
        { x: 0, y: 0, z: 0, w: 1 },
      ),
  );
  const wheels = WHEELS(car);
  const local = CORNERS.map((corner) => {
    const [wx, wy] = wheels[corner];
    return { x: wx - x, y: wy - y, z: -height };
  });
  const placed = (point: { x: number; y: number; z: number }) => {
    const { x: qx, y: qy, z: qz, w } = body.rotation();
    // v + 2w(q × v) + 2 q × (q × v)
    const c = {
      x: qy * point.z - qz * point.y,
      y: qz * point.x - qx * point.z,
      z: qx * point.y - qy * point.x,
    };
    const d = { x: qy * c.z - qz * c.y, y: qz * c.x - qx * c.z, z: qx * c.y - qy * c.x };
    const t = body.translation();
    return {
      x: t.x + point.x + 2 * (w * c.x + d.x),
      y: t.y + point.y + 2 * (w * c.y + d.y),
      z: t.z + point.z + 2 * (w * c.z + d.z),
    };
  };
  const loads = [0, 0, 0, 0];
  const over = [0, 0, 0, 0];
  const bars = supports.bars === 'on' ? [car.barFront, car.barRear] : [0, 0];
  // A slip plate carries no side load; a light spring keeps the car from drifting away.
  for (let step = 0; step < 6000; step += 1) {
    body.resetForces(true);
    body.resetTorques(true);
    const points = local.map(placed);
    const gaps = points.map((point, i) => supports.pads[CORNERS[i] as 'LF'] - point.z);
    CORNERS.forEach((corner, i) => {
      const axle = i < 2 ? 0 : 1;
      const other = i % 2 === 0 ? i + 1 : i - 1;
      const point = points[i] as { x: number; y: number; z: number };
      const force =
        car.wheelRates[corner] * (supports.seats[corner] + (gaps[i] as number)) +
        (bars[axle] as number) * ((gaps[i] as number) - (gaps[other] as number));
      loads[i] = force;
      over[i] = point.z;
      const speed = body.velocityAtPoint(point);
      const [wx, wy] = wheels[corner];
      body.addForceAtPoint(
        {
          x: -2000 * (point.x - wx) - 1000 * speed.x,
          y: -2000 * (point.y - wy) - 1000 * speed.y,
          z: force - 9000 * speed.z,
        },
        point,
        true,
      );
    });
    world.step();
  }
  world.free();
  return { loads: [...loads], over: [...over] };
};

const ZERO: PerCorner<number> = { LF: 0, RF: 0, LR: 0, RR: 0 };

beforeAll(async () => {
  await RAPIER.init();
});

describe('a rigid body on four springs, settled by a general-purpose engine', () => {
  test.each<[string, Car, Supports]>([
    ['as it is', EXAMPLE_CAR, { seats: ZERO, pads: ZERO, bars: 'off' }],
    [
      'right front seat up 4 mm',
      EXAMPLE_CAR,
      { seats: { ...ZERO, RF: 4e-3 }, pads: ZERO, bars: 'off' },
    ],
    [
      'seats and pads every way, bar off',
      EXAMPLE_CAR,
      {
        seats: { LF: 2e-3, RF: -3e-3, LR: 1e-3, RR: 4e-3 },
        pads: { LF: -1e-3, RF: 1e-3, LR: 2e-3, RR: 0 },
        bars: 'off',
      },
    ],
    [
      'bar on, a seat and a pad up',
      EXAMPLE_CAR,
      { seats: { ...ZERO, LF: 3e-3 }, pads: { ...ZERO, RF: 2e-3 }, bars: 'on' },
    ],
    [
      'uneven springs, seats up and down',
      { ...EXAMPLE_CAR, wheelRates: { LF: 150e3, RF: 210e3, LR: 190e3, RR: 130e3 } },
      { seats: { LF: -3e-3, RF: 2e-3, LR: 3e-3, RR: 0 }, pads: ZERO, bars: 'off' },
    ],
  ])('%s: loads within 0.5 %%', (_, car, supports) => {
    const found = settle(car, supports);
    const level = settle(car, { seats: ZERO, pads: ZERO, bars: 'off' });
    const wanted = statics(standingCar(car), supports);
    const before = statics(standingCar(car), { seats: ZERO, pads: ZERO, bars: 'off' });
    CORNERS.forEach((corner, i) => {
      const load = found.loads[i] as number;
      expect(Math.abs(load / wanted.loads[corner] - 1), `${corner} ${load}`).toBeLessThan(0.005);
      // What seats and pads made of it, too, not only the loads that were there before.
      const change = load - (level.loads[i] as number);
      const expected = wanted.loads[corner] - before.loads[corner];
      expect(Math.abs(change - expected)).toBeLessThan(0.005 * Math.abs(expected) + 0.5);
      const rise = (found.over[i] as number) - (level.over[i] as number);
      expect(Math.abs(rise - wanted.rise[corner])).toBeLessThan(2e-5);
    });
    const sum = found.loads.reduce((total, load) => total + load, 0);
    expect(sum).toBeCloseTo(1305 * STANDARD_GRAVITY, -1);
  });
});
