import { describe, expect, test } from 'vitest';
import { twist, warpLoadChange, warpPattern, warpStiffness } from '../../../core/adjust/warp.ts';
import { inOrder, type PerCorner } from '../../../core/corners.ts';
import { EXAMPLE_CAR, type Car } from '../../../core/sheet/car.ts';
import { STANDARD_GRAVITY } from '../../../core/units.ts';

const NONE: PerCorner<number> = { LF: 0, RF: 0, LR: 0, RR: 0 };
const DEGREE = Math.PI / 180;
const kg = (loads: PerCorner<number>): readonly number[] =>
  inOrder(loads).map((load) => load / STANDARD_GRAVITY);
const near = (found: readonly number[], wanted: readonly number[], within: number): void => {
  found.forEach((value, index) => {
    const target = wanted[index] as number;
    expect(Math.abs(value - target), `${index}: ${value}, wanted ${target}`).toBeLessThan(within);
  });
};

/** The car of the table "Four-support indeterminacy" (derived there by a brute-force solution). */
const tableCar = (
  rates: readonly [number, number, number, number],
  stiffness: number | null,
): Car => ({
  ...EXAMPLE_CAR,
  trackFront: 1.54,
  trackRear: 1.5,
  wheelRates: { LF: rates[0], RF: rates[1], LR: rates[2], RR: rates[3] },
  chassisStiffness: stiffness,
});
const CASE_1 = [30e3, 30e3, 35e3, 35e3] as const;

describe('the pattern', () => {
  test('has no sum, no pitch moment and no roll moment', () => {
    const [lf, rf, lr, rr] = inOrder(warpPattern(EXAMPLE_CAR));
    const { trackFront, trackRear, wheelbase } = EXAMPLE_CAR;
    expect(lf + rf + lr + rr).toBe(0);
    expect(wheelbase * (lr + rr)).toBe(0);
    expect((lf - rf) * trackFront + (lr - rr) * trackRear).toBeCloseTo(0, 12);
  });

  test('heights in one plane have no twist', () => {
    const { trackFront, trackRear, wheelbase } = EXAMPLE_CAR;
    const plane = (x: number, y: number): number => 0.003 + 0.0011 * x - 0.0023 * y;
    const heights = {
      LF: plane(0, trackFront / 2),
      RF: plane(0, -trackFront / 2),
      LR: plane(-wheelbase, trackRear / 2),
      RR: plane(-wheelbase, -trackRear / 2),
    };
    expect(Math.abs(twist(EXAMPLE_CAR, heights))).toBeLessThan(1e-17);
  });
});

describe('the example car (check values of the design, 6.2)', () => {
  test('right front seat up 1 mm at the wheel, rigid chassis', () => {
    const change = warpLoadChange(EXAMPLE_CAR, { ...NONE, RF: 1e-3 }, NONE);
    near(inOrder(change), [-42.235, 42.235, 43.003, -43.003], 5e-4);
  });

  test('the same with 25 kN·m/deg of chassis torsional stiffness', () => {
    const car = { ...EXAMPLE_CAR, chassisStiffness: 25e3 / DEGREE };
    near(
      inOrder(warpLoadChange(car, { ...NONE, RF: 1e-3 }, NONE)),
      [-38.99, 38.99, 39.699, -39.699],
      5e-4,
    );
  });

  test('one pad 1 mm out of plane costs 4.3 kg at the left front, 0.1 mm 0.43 kg', () => {
    near(
      kg(warpLoadChange(EXAMPLE_CAR, NONE, { ...NONE, LF: 1e-3 })),
      [4.3, -4.3, -4.4, 4.4],
      0.05,
    );
    near(
      kg(warpLoadChange(EXAMPLE_CAR, NONE, { ...NONE, LF: 1e-4 })),
      [0.43, -0.43, -0.44, 0.44],
      0.005,
    );
  });

  test('residuals of ±0.1 mm in the twist pattern cost 1.7 kg', () => {
    const pads = { LF: 1e-4, RF: -1e-4, LR: -1e-4, RR: 1e-4 };
    near(kg(warpLoadChange(EXAMPLE_CAR, NONE, pads)), [1.7, -1.7, -1.77, 1.77], 0.05);
  });
});

describe('four-support indeterminacy (reference values 5.6, derived by brute force)', () => {
  const lf5mm = { ...NONE, LF: 5e-3 };
  test.each([
    ['rigid chassis, no bars', CASE_1, null, 60.678762, 4.0178647, 4.1250078],
    ['K_T = 8000 N·m/deg', CASE_1, 8000 / DEGREE, 58.301618, 3.8604614, 3.963407],
    ['K_T = 2000 N·m/deg', CASE_1, 2000 / DEGREE, 52.170181, 3.4544662, 3.5465853],
    ['rates 30, 31, 35, 34 N/mm', [30e3, 31e3, 35e3, 34e3], null, null, 4.0238743, 4.1311776],
  ] as const)('%s', (_, rates, chassis, moment, front, rear) => {
    const car = tableCar(rates, chassis);
    const change = warpLoadChange(car, NONE, lf5mm);
    near(kg(change), [front, -front, -rear, rear], 1e-7);
    if (moment !== null) expect(change.LF * car.trackFront).toBeCloseTo(moment, 5);
  });

  test('equal tracks and rates: k·δ/4', () => {
    const rates = [40e3, 40e3, 40e3, 40e3] as const;
    const car = { ...tableCar(rates, null), trackFront: 1.5, trackRear: 1.5 };
    near(inOrder(warpLoadChange(car, NONE, { ...NONE, LF: 4e-3 })), [40, -40, -40, 40], 1e-9);
  });

  test('an error vector of all four pads', () => {
    const pads = { LF: 2e-3, RF: -1e-3, LR: 1.5e-3, RR: 0.5e-3 };
    const change = warpLoadChange(tableCar(CASE_1, null), NONE, pads);
    near(kg(change), [1.5857173, -1.5857173, -1.6280031, 1.6280031], 1e-7);
    expect(change.LF * 1.54).toBeCloseTo(23.947885, 5);
  });

  test('the warp stiffness is the change per metre at the left front', () => {
    const car = tableCar(CASE_1, null);
    expect(warpStiffness(car) * 5e-3).toBeCloseTo(4.0178647 * STANDARD_GRAVITY, 5);
  });
});
