import { describe, expect, test } from 'vitest';
import { overWheels } from '../../../core/adjust/heightPoint.ts';
import { statics } from '../../../core/adjust/statics.ts';
import { whatIf, type MassChange } from '../../../core/adjust/whatIf.ts';
import { CORNERS, perCorner, type PerCorner } from '../../../core/corners.ts';
import { EXAMPLE_CAR, type Car } from '../../../core/sheet/car.ts';
import { STANDARD_GRAVITY } from '../../../core/units.ts';
import { createCarDynamics } from '../../../drivers/pads/rig/carDynamics.ts';
import { everyCorner, USUAL_DAMPING } from '../../../drivers/pads/rig/carBuild.ts';
import { FLAT_CAR, HEIGHT, NONE, readingAt, responseOf, standingCar } from './exampleAdjust.ts';

const suppose = (
  masses: readonly MassChange[],
  turns: PerCorner<number> = NONE,
  car: Car = FLAT_CAR,
) =>
  whatIf({
    reading: readingAt(NONE, { car }),
    response: responseOf(car),
    points: overWheels(car),
    cross: 'RF+LR',
    turns,
    masses,
  });
const sure = (found: ReturnType<typeof suppose>) => {
  if (!found.ok) throw new Error(found.why);
  return found;
};

test('nothing changed is what was read', () => {
  const found = sure(suppose([]));
  expect(found.balance.total.value).toBeCloseTo(1305, 6);
  found.heights.forEach((height) => expect(height?.value).toBeCloseTo(HEIGHT, 12));
  found.rises.forEach((rise) => expect(Math.abs(rise)).toBeLessThan(1e-15));
});

test('turns are what the statics says', () => {
  const found = sure(suppose([], { ...NONE, RF: 1 }));
  const seats = { ...NONE, RF: 1.5e-3 / 0.95 };
  const { loads, rise } = statics(standingCar(), { seats, pads: NONE, bars: 'off' });
  CORNERS.forEach((corner, i) => {
    expect(found.loads[corner].value).toBeCloseTo(loads[corner], 6);
    expect(found.rises[i]).toBeCloseTo(rise[corner], 9);
  });
});

describe('masses', () => {
  test('over the front axle’s middle: half on each front pad, and the springs give way', () => {
    const found = sure(suppose([{ mass: 20, x: 0, y: 0, z: 0.3 }]));
    const before = readingAt(NONE).loads.values;
    CORNERS.forEach((corner, i) => {
      const more = i < 2 ? 10 * STANDARD_GRAVITY : 0;
      expect(found.loads[corner].value - (before[i] as number)).toBeCloseTo(more, 6);
      expect(found.rises[i]).toBeCloseTo(-more / 180e3, 9);
    });
    expect(found.balance.total.value).toBeCloseTo(1325, 6);
  });

  test('the centre of gravity by the lever rule, in all three directions', () => {
    const car = { ...FLAT_CAR, cgHeight: 0.43 };
    const fuel = { mass: -30, x: -1.8, y: 0.1, z: 0.25 };
    const driver = { mass: 80, x: -1.2, y: 0.3, z: 0.5 };
    const found = sure(suppose([fuel, driver], NONE, car));
    const total = 1305 - 30 + 80;
    expect(found.balance.total.value).toBeCloseTo(total, 6);
    expect(found.cgHeight).toBeCloseTo((1305 * 0.43 - 30 * 0.25 + 80 * 0.5) / total, 9);
    // With a height the attitude that the mass makes shifts the centre a little: a millimetre.
    const behind = (1305 * 0.525 * 2.7 - 30 * 1.8 + 80 * 1.2) / total;
    expect(Math.abs(found.balance.cgBehindFrontAxle.value - behind)).toBeLessThan(1e-3);
    const left = (1305 * 0.006 - 30 * 0.1 + 80 * 0.3) / total;
    expect(Math.abs(found.balance.cgLeftOfCentre.value - left)).toBeLessThan(1.5e-3);
  });

  test('a height that is not known stays unknown', () => {
    expect(sure(suppose([{ mass: 10, x: -1, y: 0, z: 0.2 }])).cgHeight).toBeNull();
  });

  test('against the practice rig’s dynamics, settled with the weight on it', () => {
    // The rig tilts the body's own mass; a push from outside does not, so the height is left out.
    const place = { mass: 40, x: -2.2, y: 0.5, z: 0.3 };
    const car = createCarDynamics({
      car: { ...EXAMPLE_CAR, cgHeight: null },
      mass: { mass: 1305, frontShare: 0.475, cgLeft: 0.006 },
      bars: 'off',
      gravity: STANDARD_GRAVITY,
      friction: everyCorner(0),
      relaxing: everyCorner(0),
      damping: USUAL_DAMPING,
    });
    car.push.set([place.mass * STANDARD_GRAVITY, place.x, place.y]);
    for (let t = 0; t < 15; t += car.step) car.advance();
    const found = sure(suppose([place]));
    CORNERS.forEach((corner, i) => {
      expect(found.loads[corner].value).toBeCloseTo(car.loads[i] as number, 3);
      expect(found.rises[i]).toBeCloseTo(car.rise(i), 8);
    });
  });

  test('and turns together are the sum where nothing tilts', () => {
    const mass = { mass: 25, x: -1.5, y: -0.4, z: 0.2 };
    const turns = { ...NONE, LR: 1.5 };
    const [both, one, other] = [suppose([mass], turns), suppose([mass]), suppose([], turns)].map(
      sure,
    );
    CORNERS.forEach((corner, i) =>
      expect(
        (both?.loads[corner].value ?? 0) + (readingAt(NONE).loads.values[i] as number),
      ).toBeCloseTo((one?.loads[corner].value ?? 0) + (other?.loads[corner].value ?? 0), 6),
    );
  });
});

test('with the bars on the springs of an axle give way together', () => {
  const car = { ...FLAT_CAR, barFront: 120e3 };
  const found = sure(
    whatIf({
      reading: readingAt(NONE, { car, bars: 'on' }),
      response: responseOf(car, undefined, 'on'),
      points: overWheels(car),
      cross: 'RF+LR',
      turns: NONE,
      masses: [{ mass: 30, x: 0, y: 0.84, z: 0.3 }],
    }),
  );
  // Rigid body: the four rises lie in one plane, weighted as the warp has it.
  const [lf = 0, rf = 0, lr = 0, rr = 0] = found.rises;
  expect((lf - rf) / 1.68 - (lr - rr) / 1.65).toBeCloseTo(0, 9);
  expect(lf).toBeLessThan(rf);
});

describe('refusals', () => {
  test.each([
    ['not physical', [{ mass: -1400, x: -1, y: 0, z: 0.3 }]],
    ['not physical', [{ mass: 3000, x: -9, y: 0, z: 0.3 }]],
    ['not physical', [{ mass: NaN, x: -1, y: 0, z: 0.3 }]],
    ['not physical', [{ mass: 1200, x: -1.3, y: 3, z: 0.3 }]],
  ])('%s: %o', (code, masses) => {
    expect(suppose(masses)).toMatchObject({ ok: false, code });
  });
  test('an empty set of pads', () => {
    const reading = readingAt(NONE);
    const found = whatIf({
      reading: { ...reading, loads: { ...reading.loads, values: [0, 0, 0, 0] } },
      response: responseOf(),
      points: [],
      cross: 'RF+LR',
      turns: NONE,
      masses: [],
    });
    expect(found).toMatchObject({ ok: false, code: 'no reading' });
    expect(perCorner(() => 0)).toEqual(NONE);
  });
});
