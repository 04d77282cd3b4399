import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { axleLift, type AxleLift, type AxleLiftInput } from '../../../core/balance/axleLift.ts';
import { predictAxleLift, type AxleLiftPlan } from '../../../core/balance/predictAxleLift.ts';
import { measured, type Measured } from '../../../core/measured.ts';
import { KILOGRAM_PER_POUND } from '../../../core/units.ts';
import { readRows } from '../../recordings/recordedData.ts';
import { sharedData } from '../../support/sharedData.ts';
import { rotateByMatrix } from '../alignment/rotateByMatrix.ts';
import { createNoise } from '../signal/noise.ts';

const DEGREE = Math.PI / 180;
const m = (value: number, u: number): Measured => measured(value, u, 30);

/** The example car of the design: front wheels stay down, the rear is lifted. */
const HERON = {
  wheelbase: 2.7,
  radiusStanding: 0.33,
  radiusLifted: 0.345,
  mass: 1305,
  shareStanding: 0.475,
  cgHeight: 0.43,
};
type Plan = typeof HERON;

const predicted = (plan: Plan, lift: number): AxleLiftPlan => {
  const outcome = predictAxleLift({ ...plan, lift });
  if (!outcome.ok) throw new Error(outcome.why);
  return outcome;
};

/**
 * The same without our formulas: wheel centres and centre of gravity as points of a body, turned by a
 * library's rotation matrix until the lifted centre is high enough, then moments about its contact.
 */
const byDrawing = (plan: Plan, lift: number): { readonly angle: number; readonly load: number } => {
  const standing = [0, 0, plan.radiusStanding] as const;
  const lifted = [-plan.wheelbase, 0, plan.radiusLifted] as const;
  const centre = [-plan.wheelbase * (1 - plan.shareStanding), 0, plan.cgHeight] as const;
  const about = (angle: number, [x, y, z]: readonly [number, number, number]) => {
    const turned = rotateByMatrix(angle, [0, 1, 0], [x, y, z - standing[2]]);
    return { x: turned[0], z: turned[2] + standing[2] };
  };
  let [low, high] = [0, 1.2];
  for (let step = 0; step < 60; step += 1) {
    const middle = (low + high) / 2;
    if (about(middle, lifted).z - plan.radiusLifted < lift) low = middle;
    else high = middle;
  }
  const [rear, cg] = [about(low, lifted), about(low, centre)];
  return { angle: low, load: (plan.mass * (cg.x - rear.x)) / (0 - rear.x) };
};

const LIFTS = [0, 0.2, 0.4, 0.6, 0.6, 0.4, 0.2, 0] as const;

const inputOf = (
  plan: Plan,
  change: Partial<AxleLiftInput> & {
    readonly lifts?: readonly number[];
    readonly load?: (load: number, index: number) => number;
  } = {},
): AxleLiftInput => {
  const { lifts = LIFTS, load = (own: number) => own, ...rest } = change;
  return {
    wheelbase: m(plan.wheelbase, 1e-3),
    radiusStanding: m(plan.radiusStanding, 2e-4),
    radiusLifted: m(plan.radiusLifted, 2e-4),
    mass: m(plan.mass, 0.1),
    readings: lifts.map((lift, i) => ({
      lift: m(lift, 5e-4),
      load: m(load(byDrawing(plan, lift).load, i), 0.1),
      liftedLoad: null,
      going: i < lifts.length / 2 ? 'up' : 'down',
    })),
    suspensionLocked: true,
    wheelsFree: true,
    ...rest,
  };
};

const result = (input: AxleLiftInput): AxleLift & { readonly warnings: readonly string[] } => {
  const outcome = axleLift(input);
  if (!outcome.ok) throw new Error(outcome.why);
  return { ...outcome.result, warnings: outcome.warnings };
};

describe('what an axle lift will show', () => {
  // Check values of the design, 6.1.
  test.each([
    [0.3, 6.38135, 624.858],
    [0.6, 12.84776, 630.043],
  ])('rear raised by %d m', (lift, degrees, load) => {
    const found = predicted(HERON, lift);
    expect(found.angle / DEGREE).toBeCloseTo(degrees, 5);
    expect(found.load).toBeCloseTo(load, 3);
    expect(found.load - found.gain).toBeCloseTo(619.875, 9);
  });

  // Reference values 5.3: 1280 kg, 611 kg in front, h 0.480 m, rear raised by 0.500 m.
  test.each([
    [0.3, 0.3, 10.671929286, 627.080605044],
    [0.3, 0.315, 10.677537715, 626.404628268],
    [0.29, 0.33, 10.686911524, 626.170397077],
  ])('radii %d and %d m', (front, rear, degrees, load) => {
    const found = predicted(
      {
        wheelbase: 2.7,
        radiusStanding: front,
        radiusLifted: rear,
        mass: 1280,
        shareStanding: 611 / 1280,
        cgHeight: 0.48,
      },
      0.5,
    );
    expect(found.angle / DEGREE).toBeCloseTo(degrees, 9);
    expect(found.load).toBeCloseTo(load, 8);
    // There too: 11.19 mm of height per kilogram, for equal radii.
    if (front === rear) expect(found.heightPerKilogram * 1e3).toBeCloseTo(11.19, 2);
  });

  test('is what a drawing turned by matrices shows', () => {
    fc.assert(
      fc.property(plans, fc.double({ min: 0.05, max: 0.9, noNaN: true }), (plan, lift) => {
        const drawn = byDrawing(plan, lift);
        const found = predicted(plan, lift);
        expect(found.angle).toBeCloseTo(drawn.angle, 12);
        expect(found.load).toBeCloseTo(drawn.load, 8);
      }),
      { seed: 10, numRuns: 200 },
    );
  });

  test('a car on its end and sizes of nothing are refused', () => {
    expect(predictAxleLift({ ...HERON, lift: 2.7 })).toMatchObject({ ok: false });
    expect(predictAxleLift({ ...HERON, lift: 0.3, cgHeight: 0 })).toMatchObject({ ok: false });
    expect(predictAxleLift({ ...HERON, lift: 0.3, shareStanding: 1 })).toMatchObject({ ok: false });
  });
});

const plans: fc.Arbitrary<Plan> = fc.record({
  wheelbase: fc.double({ min: 2.2, max: 3.2, noNaN: true }),
  radiusStanding: fc.double({ min: 0.26, max: 0.36, noNaN: true }),
  radiusLifted: fc.double({ min: 0.26, max: 0.36, noNaN: true }),
  mass: fc.double({ min: 500, max: 1800, noNaN: true }),
  shareStanding: fc.double({ min: 0.38, max: 0.62, noNaN: true }),
  cgHeight: fc.double({ min: 0.2, max: 0.7, noNaN: true }),
});

describe('height of the centre of gravity by axle lift', () => {
  test('comes back from drawn cars of any radii, whichever axle is lifted', () => {
    fc.assert(
      fc.property(plans, (plan) => {
        const found = result(inputOf(plan));
        expect(found.cgHeight.value).toBeCloseTo(plan.cgHeight, 9);
        expect(found.shareStanding.value).toBeCloseTo(plan.shareStanding, 12);
        expect(found.hysteresis?.value).toBeCloseTo(0, 9);
        // The other axle: the same car seen from behind.
        const turned = {
          ...plan,
          radiusStanding: plan.radiusLifted,
          radiusLifted: plan.radiusStanding,
          shareStanding: 1 - plan.shareStanding,
        };
        expect(result(inputOf(turned)).cgHeight.value).toBeCloseTo(plan.cgHeight, 9);
      }),
      { seed: 11, numRuns: 60 },
    );
  });

  test('reference values 5.3: 648.0 kg at 0.500 m on 0.300 m wheels is 0.7141635 m', () => {
    const reading = (lift: number, load: number) => ({
      lift: m(lift, 0),
      load: m(load, 0.1),
      liftedLoad: null,
      going: 'up' as const,
    });
    const found = result({
      wheelbase: m(2.7, 0),
      radiusStanding: m(0.3, 0),
      radiusLifted: m(0.3, 0),
      mass: m(1280, 0),
      readings: [reading(0, 611), reading(0.5, 648)],
      suspensionLocked: true,
      wheelsFree: true,
    });
    expect(found.cgHeight.value).toBeCloseTo(0.7141635, 7);
    // 11.19 mm/kg, two loads of 0.1 kg.
    expect(found.cgHeight.u).toBeCloseTo(0.01119 * 0.1 * Math.SQRT2, 5);
    expect(found.hysteresis).toBeNull();
  });

  test('unlike radii matter: taking the front ones for all four puts the height 15 mm off or more', () => {
    const plan = { ...HERON, radiusStanding: 0.29, radiusLifted: 0.33, cgHeight: 0.48 };
    const input = inputOf(plan);
    const wrong = result({ ...input, radiusLifted: input.radiusStanding });
    expect(result(input).cgHeight.value).toBeCloseTo(0.48, 9);
    expect(Math.abs(wrong.cgHeight.value - 0.48)).toBeGreaterThan(0.015);
  });

  test('its uncertainty is the scatter of simulated lifts', () => {
    const exact = inputOf(HERON);
    const noise = createNoise(41);
    const shake = (v: Measured): Measured => ({ ...v, value: v.value + v.u * noise.normal() });
    const shaken = (lift: Measured): Measured => ({
      ...lift,
      value: Math.max(0, shake(lift).value),
    });
    const heights = Array.from({ length: 1500 }, () => {
      const run = result({
        ...exact,
        wheelbase: shake(exact.wheelbase),
        radiusStanding: shake(exact.radiusStanding),
        radiusLifted: shake(exact.radiusLifted),
        mass: shake(exact.mass),
        readings: exact.readings.map((each) => ({
          ...each,
          lift: each.lift.value > 0 ? shaken(each.lift) : each.lift,
          load: shake(each.load),
        })),
      });
      return run.cgHeight.value;
    });
    const mean = heights.reduce((sum, h) => sum + h, 0) / heights.length;
    const sd = Math.sqrt(heights.reduce((sum, h) => sum + (h - mean) ** 2, 0) / heights.length);
    const { cgHeight } = result(exact);
    expect(Math.abs(mean - 0.43)).toBeLessThan((4 * sd) / Math.sqrt(1500));
    // 1,500 runs know it to 1.8 %; four times that.
    expect(Math.abs(sd / cgHeight.u - 1)).toBeLessThan(0.075);
  });

  test('friction: 0.5 kg less going up and more coming down shows as hysteresis and cancels', () => {
    const found = result(
      inputOf(HERON, {
        load: (load, i) => (i === 0 || i === 7 ? load : load + (i < 4 ? -0.5 : 0.5)),
      }),
    );
    expect(found.hysteresis?.value).toBeCloseTo(1, 9);
    // Three pairs of loads, each of 0.1 kg.
    expect(found.hysteresis?.u).toBeCloseTo((0.1 * Math.sqrt(6)) / 3, 12);
    expect(found.cgHeight.value).toBeCloseTo(0.43, 6);
    expect(found.warnings.join(' ')).toMatch(/something sticks.*do not lie on a line/u);
    expect(found.cgHeight.u).toBeGreaterThan(2 * result(inputOf(HERON)).cgHeight.u);
  });

  test('a low lift is warned of with what a kilogram is worth, on this car 9 mm at 0.6 m', () => {
    const { warnings } = result(inputOf(HERON, { lifts: [0, 0.1, 0.2, 0.3, 0.3, 0.2, 0.1, 0] }));
    expect(warnings).toHaveLength(1);
    expect(warnings[0]).toMatch(/worth 18\u00A0mm .* 9\u00A0mm at 0\.6/u);
    expect(result(inputOf(HERON)).warnings).toEqual([]);
  });

  test('too few heights, no way down, axles that do not add up: said', () => {
    const few = result(inputOf(HERON, { lifts: [0, 0.3, 0.6] })).warnings.join(' ');
    expect(few).toContain('Fewer than three heights');
    const exact = inputOf(HERON);
    const upOnly = result({ ...exact, readings: exact.readings.slice(0, 4) });
    expect(upOnly.warnings[0]).toContain('on the way down too');
    const touched = result({
      ...exact,
      readings: exact.readings.map((each) => ({
        ...each,
        liftedLoad: m(HERON.mass - each.load.value - 2, 0.1),
      })),
    });
    expect(touched.warnings[0]).toContain('do not weigh what the car does');
  });

  test('what cannot be is refused, with what to do', () => {
    const exact = inputOf(HERON);
    const why = (change: Partial<AxleLiftInput>): string => {
      const outcome = axleLift({ ...exact, ...change });
      return outcome.ok ? 'accepted' : `${outcome.why} ${outcome.next}`;
    };
    const first = exact.readings[0]!;
    expect(why({ suspensionLocked: false })).toContain('rigid links');
    expect(why({ wheelsFree: false })).toContain('Release the brakes');
    expect(why({ mass: m(0, 0) })).toContain('weigh it');
    expect(why({ readings: [first, { ...first, lift: m(300, 1) }] })).toContain('unit');
    expect(why({ readings: [first, { ...first, load: m(1400, 0.1) }] })).toContain('unit');
    expect(why({ readings: [first, { ...first, load: m(600, 0) }] })).toContain('no uncertainty');
    expect(why({ readings: [first, first] })).toContain('one height');
    expect(why({ readings: [] })).toContain('one height');
    // Loads read under the lifted axle fall as it rises.
    const swapped = exact.readings.map((each) => ({
      ...each,
      load: m(1305 - each.load.value - 80 * each.lift.value, 0.1),
    }));
    expect(why({ readings: swapped })).toContain('below the ground');
  });
});

const vehicles = sharedData('vehicle-mass-cg-2004.csv');

vehicles.test(
  'CG heights of 25 road vehicles, as a laboratory measured them, come back from lifts',
  () => {
    const rows = readRows(vehicles.file);
    expect(rows).toHaveLength(25);
    for (const row of rows) {
      const metres = (column: string): number => Number(row[column]) * 0.0254;
      const wheelbase = metres('Wheel base (in)');
      const plan = {
        wheelbase,
        radiusStanding: 0.34,
        radiusLifted: 0.35,
        mass: Number(row['Test Weight (lb)']) * KILOGRAM_PER_POUND,
        shareStanding: 1 - metres('CG Long (in)') / wheelbase,
        cgHeight: metres('CG Height (in)'),
      };
      const found = result(inputOf(plan));
      expect(found.cgHeight.value).toBeCloseTo(plan.cgHeight, 9);
      expect(found.cgHeight.u).toBeLessThan(0.002);
    }
  },
);
