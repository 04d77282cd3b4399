import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { stringSkew, type StringSquareness } from '../../../core/alignment/stringSkew.ts';
import { toe, toeAngle, toeLength, type Toe, type ToeInput } from '../../../core/alignment/toe.ts';
import { CORNERS, perCorner, type Corner, type PerCorner } from '../../../core/corners.ts';
import { measured, type Measured } from '../../../core/measured.ts';
import { createNoise } from '../signal/noise.ts';
import { DEGREE } from './rotateByMatrix.ts';

const WHEELBASE = 2.7;
const TRACK = { front: 1.68, rear: 1.65 };
const DIAMETER = 0.4572;
const BAR = { front: 0.9, rear: -3.6 };

const m = (value: number, u = 1e-4): Measured => measured(value, u, 30);

/** A string seen from above: y at x, in the car's axes. */
interface Line {
  readonly at: number;
  readonly slope: number;
}
const yOn = ({ at, slope }: Line, x: number): number => at + slope * x;
/** Distance of a point from the string along its normal, outboard of the car positive. */
const distance = (line: Line, x: number, y: number): number =>
  Math.abs(yOn(line, x) - y) / Math.hypot(1, line.slope);

interface World {
  readonly toes: PerCorner<number>;
  readonly left: Line;
  readonly right: Line;
  readonly squaredTo: 'chassis' | 'hubs';
}

/** Reads a scale at every rim edge and mark of a car drawn from above: no formula of ours in it. */
const read = ({ toes, left, right, squaredTo }: World): ToeInput => {
  const place = (corner: Corner) => {
    const isLeft = corner === 'LF' || corner === 'LR';
    const isFront = corner === 'LF' || corner === 'RF';
    return {
      line: isLeft ? left : right,
      out: isLeft ? 1 : -1,
      x: isFront ? 0 : -WHEELBASE,
      y: ((isLeft ? 1 : -1) * (isFront ? TRACK.front : TRACK.rear)) / 2,
    };
  };
  const wheels = perCorner((corner) => {
    const { line, out, x, y } = place(corner);
    const ahead = (DIAMETER / 2) * Math.cos(toes[corner]);
    const inboard = (DIAMETER / 2) * Math.sin(toes[corner]) * out;
    return {
      front: m(distance(line, x + ahead, y - inboard)),
      rear: m(distance(line, x - ahead, y + inboard)),
      diameter: DIAMETER,
      halfTurn: null,
    };
  });
  const hub = (corner: Corner): Measured => {
    const { line, x, y } = place(corner);
    return m(Math.abs(yOn(line, x) - y));
  };
  const spacing = (x: number): Measured => m(yOn(left, x) - yOn(right, x));
  const strings: StringSquareness =
    squaredTo === 'chassis'
      ? {
          to: 'chassis',
          front: { left: m(yOn(left, BAR.front) - 0.5), right: m(-0.5 - yOn(right, BAR.front)) },
          rear: { left: m(yOn(left, BAR.rear) - 0.5), right: m(-0.5 - yOn(right, BAR.rear)) },
          apart: m(BAR.front - BAR.rear),
        }
      : {
          to: 'hubs',
          front: { left: hub('LF'), right: hub('RF') },
          rear: { left: hub('LR'), right: hub('RR') },
          wheelbase: m(WHEELBASE),
          spacing: { front: spacing(BAR.front), rear: spacing(BAR.rear) },
          apart: m(BAR.front - BAR.rear),
        };
  return { wheels, strings, box: 'on the car', movedSinceSquared: false };
};

const result = (input: ToeInput): Toe & { readonly warnings: readonly string[] } => {
  const outcome = toe(input);
  if (!outcome.ok) throw new Error(outcome.why);
  return { ...outcome.result, warnings: outcome.warnings };
};

const NONE = perCorner(() => 0);
const SQUARE = { left: { at: 1, slope: 0 }, right: { at: -1, slope: 0 } } as const;
const toesOf = fc.record(
  Object.fromEntries(
    CORNERS.map((corner) => [corner, fc.double({ min: -0.03, max: 0.03, noNaN: true })]),
  ) as Record<Corner, fc.Arbitrary<number>>,
);
const lines = fc.record({
  at: fc.double({ min: 0.95, max: 1.1, noNaN: true }),
  slope: fc.double({ min: -0.02, max: 0.02, noNaN: true }),
});

describe('the angle of a difference over a diameter', () => {
  test('check value of the design, 6.7: 1.5 mm over 457 mm is 0.18806° or 11.284′', () => {
    const angle = toeAngle(0.0015, 0.457);
    expect(angle / DEGREE).toBeCloseTo(0.18806, 5);
    expect((angle / DEGREE) * 60).toBeCloseTo(11.284, 3);
    expect(toeLength(angle, 0.457)).toBeCloseTo(0.0015, 15);
  });

  // Reference values 5.7, the column of asin.
  test.each([
    [2, 431.8, 0.265382049],
    [3, 600, 0.28648009],
    [10, 431.8, 1.32702414],
    [12, 600, 1.145991999],
  ])('%d mm over %d mm', (difference, diameter, degrees) => {
    expect(toeAngle(difference / 1e3, diameter / 1e3) / DEGREE).toBeCloseTo(degrees, 8);
  });
});

describe('toe by string and scale', () => {
  test.each(['chassis', 'hubs'] as const)(
    'comes back from a drawing with strings askew, squared to %s',
    (squaredTo) => {
      fc.assert(
        fc.property(toesOf, lines, lines, (toes, left, right) => {
          const found = result(
            read({ toes, left, right: { at: -right.at, slope: right.slope }, squaredTo }),
          );
          for (const corner of CORNERS)
            expect(found.wheels[corner]?.value).toBeCloseTo(
              toes[corner],
              squaredTo === 'hubs' ? 5 : 9,
            );
          expect(found.front?.total.value).toBeCloseTo(toes.LF + toes.RF, 5);
          expect(found.rear?.thrust?.value).toBeCloseTo((toes.LR - toes.RR) / 2, 5);
        }),
        { seed: 5, numRuns: 200 },
      );
    },
  );

  test('reference values 5.7: left 0.20°, right 0.05° is 0.25° in all and thrust 0.075° to the right', () => {
    const toes = { ...NONE, LR: 0.2 * DEGREE, RR: 0.05 * DEGREE };
    const { rear } = result(read({ toes, ...SQUARE, squaredTo: 'hubs' }));
    expect((rear?.total.value ?? 0) / DEGREE).toBeCloseTo(0.25, 9);
    expect((rear?.thrust?.value ?? 0) / DEGREE).toBeCloseTo(0.075, 9);
  });

  test('mirroring the car mirrors the wheels, keeps the total and turns the thrust', () => {
    fc.assert(
      fc.property(toesOf, lines, lines, (toes, left, right) => {
        const one = result(
          read({ toes, left, right: { at: -right.at, slope: -right.slope }, squaredTo: 'hubs' }),
        );
        const other = result(
          read({
            toes: { LF: toes.RF, RF: toes.LF, LR: toes.RR, RR: toes.LR },
            left: right,
            right: { at: -left.at, slope: -left.slope },
            squaredTo: 'hubs',
          }),
        );
        expect(other.wheels.LF?.value).toBeCloseTo(one.wheels.RF?.value ?? 9, 12);
        expect(other.wheels.LR?.u).toBeCloseTo(one.wheels.RR?.u ?? 9, 12);
        expect(other.front?.total.value).toBeCloseTo(one.front?.total.value ?? 9, 12);
        expect(other.rear?.thrust?.value).toBeCloseTo(-(one.rear?.thrust?.value ?? 9), 12);
      }),
      { seed: 6, numRuns: 100 },
    );
  });

  test('a wheel wobbling by ±0.3 mm: half a turn on takes it out and names it', () => {
    const exact = read({ toes: { ...NONE, LF: 0.003 }, ...SQUARE, squaredTo: 'hubs' });
    const base = exact.wheels.LF!;
    const wobbled = (by: number) => ({
      front: m(base.front.value + by),
      rear: m(base.rear.value - by),
    });
    const found = result({
      ...exact,
      wheels: { ...exact.wheels, LF: { ...base, ...wobbled(3e-4), halfTurn: wobbled(-3e-4) } },
    });
    expect(found.wheels.LF?.value).toBeCloseTo(0.003, 8);
    expect(found.runOut.LF?.value).toBeCloseTo(6e-4 / DIAMETER, 7);
    expect(found.runOut.RF).toBeNull();
  });

  test('a standing box and a car that moved leave the totals, whatever the car did', () => {
    const toes = { LF: 0.002, RF: 0.001, LR: 0.003, RR: 0.002 };
    const squared = read({ toes, ...SQUARE, squaredTo: 'hubs' });
    // The car then settles 0.2° askew in the box; its squareness was noted before.
    const moved = read({
      toes,
      left: { at: 1, slope: 0.0035 },
      right: { at: -1, slope: 0.0035 },
      squaredTo: 'hubs',
    });
    const found = result({
      ...squared,
      wheels: moved.wheels,
      box: 'on the ground',
      movedSinceSquared: true,
    });
    expect(found.wheels).toEqual(perCorner(() => null));
    expect(found.rear?.thrust).toBeNull();
    expect(found.front?.total.value).toBeCloseTo(0.003, 6);
    expect(found.rear?.total.value).toBeCloseTo(0.005, 6);
    expect(found.covariance.flat().every((entry) => entry === 0)).toBe(true);
    expect(found.warnings[0]).toContain('Square them again');
  });

  test('uncertainty and covariance are those of simulated scales', () => {
    const exact = read({
      toes: { LF: 0.002, RF: 0.001, LR: 0.003, RR: 0.002 },
      ...SQUARE,
      squaredTo: 'hubs',
    });
    const noise = createNoise(12);
    const shake = (value: Measured): Measured => ({
      ...value,
      value: value.value + value.u * noise.normal(),
    });
    const strings = exact.strings;
    if (strings.to !== 'hubs') throw new Error('hubs are meant');
    const runs = Array.from({ length: 3000 }, () =>
      result({
        ...exact,
        wheels: perCorner((corner) => {
          const wheel = exact.wheels[corner]!;
          return { ...wheel, front: shake(wheel.front), rear: shake(wheel.rear) };
        }),
        strings: {
          ...strings,
          front: { left: shake(strings.front.left), right: shake(strings.front.right) },
          rear: { left: shake(strings.rear.left), right: shake(strings.rear.right) },
          spacing: { front: shake(strings.spacing.front), rear: shake(strings.spacing.rear) },
        },
      }),
    );
    const truth = result(exact);
    const covariance = (a: Corner, b: Corner): number =>
      runs.reduce(
        (sum, { wheels }) =>
          sum +
          (wheels[a]!.value - truth.wheels[a]!.value) * (wheels[b]!.value - truth.wheels[b]!.value),
        0,
      ) / runs.length;
    for (const [i, a] of CORNERS.entries())
      for (const [j, b] of CORNERS.entries()) {
        const scale = truth.wheels[a]!.u * truth.wheels[b]!.u;
        // 3,000 runs know a correlation to 0.018, a variance to 2.6 %: four times that.
        const within = i === j ? 0.104 : 0.073;
        expect(Math.abs(covariance(a, b) - truth.covariance[i]![j]!) / scale).toBeLessThan(within);
      }
    // The string is common to both sides' wheels: what it adds to one it takes from the other.
    expect(truth.covariance[0]![1]!).toBeLessThan(0);
    expect(truth.covariance[0]![2]!).toBeGreaterThan(0);
  });

  test('a wheel that was not read is a hole, and its axle has no total', () => {
    const exact = read({ toes: NONE, ...SQUARE, squaredTo: 'chassis' });
    const found = result({ ...exact, wheels: { ...exact.wheels, RR: null } });
    expect(found.wheels.RR).toBeNull();
    expect(found.rear).toBeNull();
    expect(found.front?.total.value).toBeCloseTo(0, 12);
  });

  test('what cannot be is refused in words', () => {
    const exact = read({ toes: NONE, ...SQUARE, squaredTo: 'hubs' });
    const lf = exact.wheels.LF!;
    const why = (change: Partial<typeof lf>, strings = exact.strings): string => {
      const outcome = toe({
        ...exact,
        strings,
        wheels: { ...exact.wheels, LF: { ...lf, ...change } },
      });
      return outcome.ok ? 'accepted' : outcome.why;
    };
    expect(why({ front: m(lf.front.value + 0.15) })).toContain('LF: the two distances differ');
    expect(why({ rear: m(-0.1) })).toContain('does not pass outside');
    expect(why({ diameter: 0 })).toContain('measuring diameter');
    expect(why({ front: m(0.16, 5) })).toContain('An uncertainty');
    expect(why({}, { ...exact.strings, apart: m(0) })).toContain('above zero');
    expect(why({}, { ...exact.strings, front: { left: m(0.5), right: m(0.1) } })).toContain(
      'two degrees',
    );
  });
});

describe('the strings alone', () => {
  test('4 mm of opening to the front over 4 m is 0.001 on both sides, 2 mm of turn opposite', () => {
    const opened = stringSkew({
      to: 'chassis',
      front: { left: m(0.304), right: m(0.304) },
      rear: { left: m(0.3), right: m(0.3) },
      apart: m(4),
    });
    expect(opened.ok && opened.result.left.value).toBeCloseTo(0.001, 9);
    expect(opened.ok && opened.result.right.value).toBeCloseTo(0.001, 9);
    // 0.1 mm twice over 4 m, by hand.
    expect(opened.ok && opened.result.left.u).toBeCloseTo((1e-4 * Math.SQRT2) / 4, 9);
  });
});
