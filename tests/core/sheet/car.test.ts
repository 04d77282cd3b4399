import { describe, expect, test } from 'vitest';
import { checkAdjusters, seatPerTurn } from '../../../core/adjust/adjuster.ts';
import { bodyAttitude } from '../../../core/alignment/bodyAttitude.ts';
import { commandSchema } from '../../../core/contract/commands.ts';
import { adjustersOf } from '../../../core/sheet/adjustersOf.ts';
import { carSchema, EXAMPLE_CAR, type Car } from '../../../core/sheet/car.ts';
import { carDetailsSchema } from '../../../core/sheet/carDetails.ts';
import { EXAMPLE_CAR_DETAILS } from '../../../core/sheet/exampleCarDetails.ts';
import { rakeWeights } from '../../../core/sheet/rakeWeights.ts';

/** As cars were stored before they had anything of a set-up. */
const STORED_BEFORE =
  '{"id":"0190a0c0-0000-7000-8000-000000000001","name":"Heron R2","wheelbase":2.7,"trackFront":1.68,' +
  '"trackRear":1.65,"cgHeight":0.43,"wheelRates":{"LF":180000,"RF":180000,"LR":165000,"RR":165000},' +
  '"barFront":60000,"barRear":0,"chassisStiffness":null,"perchPitch":0.0015,' +
  '"motionRatios":{"LF":0.95,"RF":0.95,"LR":0.9,"RR":0.9}}';

describe('a car with its set-up', () => {
  test('a car stored before is read, its set-up not known', () => {
    expect(carSchema.parse(JSON.parse(STORED_BEFORE))).toEqual({ ...EXAMPLE_CAR, details: null });
    const car: unknown = JSON.parse(STORED_BEFORE);
    const command = commandSchema.parse({ do: 'use car', car });
    expect(command).toMatchObject({ car: { details: null } });
  });

  test('the example is whole, and what is stored comes back', () => {
    expect(carSchema.parse(JSON.parse(JSON.stringify(EXAMPLE_CAR)))).toEqual(EXAMPLE_CAR);
    expect(carDetailsSchema.safeParse(EXAMPLE_CAR_DETAILS).success).toBe(true);
  });

  test.each([
    ['heightPoints', [EXAMPLE_CAR_DETAILS.heightPoints[0], EXAMPLE_CAR_DETAILS.heightPoints[0]]],
    ['ballastPlaces', [EXAMPLE_CAR_DETAILS.ballastPlaces[0], EXAMPLE_CAR_DETAILS.ballastPlaces[0]]],
    ['ruleLimits', [{ item: 'total', least: 1300, most: 1290 }]],
    ['ruleLimits', [{ item: 'total; drop', least: 1300, most: null }]],
    ['cross', 'both'],
    ['adjusters', { LF: null, RF: null, LR: null }],
    ['fuelTank', { x: 0, y: 0, capacity: 90, density: 745 }],
  ])('%s that cannot be are refused', (field, value) => {
    expect(carDetailsSchema.safeParse({ ...EXAMPLE_CAR_DETAILS, [field]: value }).success).toBe(
      false,
    );
  });

  test('one turn is pitch over motion ratio at the wheel; the threads of a push-rod add', () => {
    const car: Car = {
      ...EXAMPLE_CAR,
      details: {
        ...EXAMPLE_CAR_DETAILS,
        adjusters: {
          ...EXAMPLE_CAR_DETAILS.adjusters,
          RR: {
            kind: 'push-rod',
            pitches: [0.00125, 0.001],
            motionRatio: 1.1,
            stepsPerTurn: 6,
            countedIn: 'flats',
            underLoad: true,
            room: null,
          },
        },
      },
    };
    const adjusters = adjustersOf(car);
    expect(checkAdjusters(adjusters)).toBeNull();
    expect(adjusters.LF && seatPerTurn(adjusters.LF)).toBeCloseTo(0.0015 / 0.95, 12);
    expect(adjusters.RR && seatPerTurn(adjusters.RR)).toBeCloseTo(0.00225 / 1.1, 12);
    expect(adjustersOf({ ...car, details: null })).toEqual({
      LF: null,
      RF: null,
      LR: null,
      RR: null,
    });
  });
});

describe('rake from ride heights', () => {
  const u = 1e-4;
  const rakeOf = (points: readonly { x: number; y: number; h: number }[]): number | null => {
    const weights = rakeWeights(points, 2.7);
    return weights && points.reduce((sum, { h }, i) => sum + h * (weights[i] as number), 0);
  };

  test('the same as the plane fitted by another way, for points not in a plane', () => {
    const points = [
      { x: -0.3, y: 0.5, h: 0.0651 },
      { x: -0.35, y: -0.55, h: 0.0667 },
      { x: -2.3, y: 0.45, h: 0.0745 },
      { x: -2.4, y: -0.5, h: 0.0722 },
      { x: -1.2, y: 0.2, h: 0.07 },
    ];
    // `bodyAttitude` solves the weighted plane by Householder; these weights come of normal equations.
    const plane = bodyAttitude(
      points.map(({ x, y, h }, i) => ({
        name: `${i}`,
        x,
        y,
        above: 0,
        height: { value: h, u, dof: Infinity },
        datum: 'patch',
      })),
      EXAMPLE_CAR,
    );
    expect(plane.ok && plane.result.rake.length.value).toBeCloseTo(rakeOf(points) as number, 12);
  });

  test('5 mm over the wheelbase; one line of points; none where there is no length', () => {
    const plane = (x: number, y: number) => ({ x, y, h: 0.06 - (0.005 / 2.7) * x + 0.01 * y });
    expect(rakeOf([plane(-0.3, 0.5), plane(-0.3, -0.5), plane(-2, 0)])).toBeCloseTo(0.005, 12);
    expect(rakeOf([plane(0, 0), plane(-2, 0)])).toBeCloseTo(0.005, 12);
    expect(rakeOf([plane(-1, 0.5), plane(-1, -0.5)])).toBeNull();
    // On a slant rake and roll are one.
    expect(rakeOf([plane(0, 0.5), plane(-2, -0.5)])).toBeNull();
    expect(rakeOf([])).toBeNull();
  });

  test('what all heights have in common is not in it', () => {
    const weights = rakeWeights(EXAMPLE_CAR_DETAILS.heightPoints, 2.7) as readonly number[];
    expect(weights.reduce((sum, each) => sum + each, 0)).toBeCloseTo(0, 12);
  });
});
