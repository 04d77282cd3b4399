import fc from 'fast-check';
import { expect, test } from 'vitest';
import { bodyAttitude } from '../../../core/alignment/bodyAttitude.ts';
import { bumpSteer } from '../../../core/alignment/bumpSteer.ts';
import { camber } from '../../../core/alignment/camber.ts';
import { casterSweep } from '../../../core/alignment/casterSweep.ts';
import { inclinationByLevel } from '../../../core/alignment/inclinationByLevel.ts';
import { loadedRadius } from '../../../core/alignment/loadedRadius.ts';
import { rackCentre } from '../../../core/alignment/rackCentre.ts';
import { rake } from '../../../core/alignment/rake.ts';
import { toe } from '../../../core/alignment/toe.ts';
import { axleLift } from '../../../core/balance/axleLift.ts';
import { predictAxleLift } from '../../../core/balance/predictAxleLift.ts';

/** Whatever is typed, in whatever unit: an answer or a refusal that says what to do, never a throw. */

const number = fc.oneof(
  fc.constantFrom(0, 1, -1, 0.3, 2.7, 1e6, -1e6, 1e-9, 5e-324),
  fc.double({ min: -3, max: 3, noNaN: true }),
  fc.double({ min: 0, max: 0.5, noNaN: true }),
);
const value = fc.record({
  value: number,
  u: fc.oneof(
    fc.constantFrom(0, 1e-4, 1, 100, 5e-324),
    fc.double({ min: 0, max: 0.01, noNaN: true }),
  ),
  dof: fc.constantFrom(1, 5, 30, Infinity),
});
const maybe = <T>(of: fc.Arbitrary<T>): fc.Arbitrary<T | null> => fc.option(of, { nil: null });
const sides = fc.record({ left: value, right: value });
const ends = fc.record({ front: value, rear: value });
const corners = <T>(of: fc.Arbitrary<T>) => fc.record({ LF: of, RF: of, LR: of, RR: of });
const swept = { steer: value, camber: value };
const levelled = fc.record({ steer: value, level: value });
const straight = fc.record({ camber: value, toe: value });
const only = <const T>(constant: T): fc.Arbitrary<T> => fc.constant(constant);
const point = fc.record({ x: number, height: value, above: number });

const answered = <T>(
  of: fc.Arbitrary<T>,
  answer: (input: T) => { ok: true } | { ok: false; why: string; next: string },
) =>
  fc.property(of, (input) => {
    const outcome = answer(input);
    if (outcome.ok) return;
    expect(outcome.why).toMatch(/^\S.*\.$/u);
    expect(outcome.next).toMatch(/^\S.*\.$/u);
  });

test.each([
  [
    'camber',
    answered(
      fc.record({
        side: fc.constantFrom('left' as const, 'right' as const),
        reading: value,
        turned: maybe(value),
        zero: maybe(value),
        datum: fc.constantFrom('gravity' as const, 'patch' as const),
        slope: maybe(value),
      }),
      camber,
    ),
  ],
  [
    'toe',
    answered(
      fc.record({
        wheels: corners(
          maybe(fc.record({ front: value, rear: value, diameter: number, halfTurn: maybe(ends) })),
        ),
        strings: fc.record({
          to: only('hubs'),
          front: sides,
          rear: sides,
          wheelbase: value,
          spacing: ends,
          apart: value,
        }),
        box: fc.constantFrom('on the car' as const, 'on the ground' as const),
        movedSinceSquared: fc.boolean(),
      }),
      toe,
    ),
  ],
  [
    'caster',
    answered(
      fc.record({
        toedOut: fc.record(swept),
        toedIn: fc.record(swept),
        straight: maybe(straight),
      }),
      casterSweep,
    ),
  ],
  [
    'inclination',
    answered(
      fc.record({
        toedOut: levelled,
        toedIn: levelled,
        brakeHeld: only(true),
        caster: value,
        straight,
      }),
      inclinationByLevel,
    ),
  ],
  [
    'bump steer',
    answered(fc.array(fc.record({ travel: value, angle: value }), { maxLength: 8 }), bumpSteer),
  ],
  [
    'rack',
    answered(
      fc.record({ by: only('locks'), locks: sides, perTravel: value, rack: only('ahead') }),
      rackCentre,
    ),
  ],
  [
    'ride heights',
    answered(
      fc.array(
        fc.record({
          name: only('a point'),
          x: number,
          y: number,
          above: number,
          height: value,
          datum: only('patch'),
        }),
        { maxLength: 8 },
      ),
      (points) => bodyAttitude(points, { wheelbase: 2.7, trackFront: 1.6, trackRear: 1.6 }),
    ),
  ],
  ['rake', answered(fc.record({ front: point, rear: point, wheelbase: number }), rake)],
  [
    'loaded radius',
    answered(
      fc.tuple(
        fc.record({
          radius: value,
          load: number,
          pressure: number,
          verticalRate: maybe(value),
          perPressure: maybe(value),
        }),
        fc.record({ load: number, pressure: number }),
      ),
      ([tyre, at]) => loadedRadius(tyre, at),
    ),
  ],
  [
    'axle lift',
    answered(
      fc.record({
        wheelbase: only({ value: 2.7, u: 1e-3, dof: 30 }),
        radiusStanding: only({ value: 0.33, u: 1e-4, dof: 30 }),
        radiusLifted: value,
        mass: fc.oneof(value, only({ value: 1305, u: 0.1, dof: 30 })),
        readings: fc.array(
          fc.record({
            lift: value,
            load: fc
              .tuple(value, fc.double({ min: 600, max: 640, noNaN: true }))
              .map(([own, load]) => ({ ...own, value: load })),
            liftedLoad: maybe(value),
            going: fc.constantFrom('up' as const, 'down' as const),
          }),
          { maxLength: 4 },
        ),
        suspensionLocked: only(true),
        wheelsFree: only(true),
      }),
      axleLift,
    ),
  ],
  [
    'axle lift planned',
    answered(
      fc.record({
        wheelbase: number,
        radiusStanding: number,
        radiusLifted: number,
        mass: number,
        shareStanding: number,
        cgHeight: number,
        lift: number,
      }),
      predictAxleLift,
    ),
  ],
] as const)('%s', (_, property) => {
  fc.assert(property as fc.IProperty<unknown>, { seed: 13, numRuns: 1500 });
});
