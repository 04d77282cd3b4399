import { describe, expect, test } from 'vitest';
import { CORNERS } from '../../../core/corners.ts';
import { cornerShares, type BallastProblem } from '../../../core/scrutineering/ballastProblem.ts';
import { ballastOutcome } from '../../../core/scrutineering/ballastOutcome.ts';
import { firstBallastPlan } from '../../../core/scrutineering/firstBallastPlan.ts';
import type { Prediction } from '../../../core/scrutineering/prediction.ts';
import { reachableMasses } from '../../../core/scrutineering/reachableMasses.ts';
import { weighAgain } from '../../../core/scrutineering/weighAgain.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import { createRandom } from '../../../drivers/pads/rig/random.ts';
import { near } from './near.ts';

const problem: BallastProblem = {
  car: EXAMPLE_CAR,
  // The example car less 30 kg carried at its centre of gravity.
  loads: { LF: 305.229, RF: 300.396, LR: 336.863, RR: 332.512 },
  bars: 'off',
  total: { low: 1304.5, high: null },
  frontShare: { low: 0.473, high: 0.477 },
  leftShare: { low: 0.5, high: 0.507 },
  mostBallast: 40,
  places: [
    { id: 'f', name: 'front tray', x: 0.2, y: 0, z: 0.1 },
    { id: 'l', name: 'left sill', x: -1.4, y: 0.6, z: 0.15 },
    { id: 'r', name: 'rear tray', x: -2.5, y: 0, z: 0.3 },
  ].map((place) => ({
    ...place,
    leastMass: null,
    mostMass: 20,
    mostPlates: null,
    takes: null,
    fixing: 'two M8 bolts',
  })),
  plates: [
    { id: 's10', name: '10 kg', mass: 10, count: 2 },
    { id: 's5', name: '5 kg', mass: 5, count: 4 },
    { id: 's1', name: '1 kg', mass: 1, count: 5 },
  ],
};

describe('how a mass is shared by the four pads', () => {
  test.each(['on', 'off'] as const)('moments are those of the mass, bars %s', (bars) => {
    const { wheelbase, trackFront, trackRear } = EXAMPLE_CAR;
    for (const [x, y] of [
      [0, 0],
      [0.4, -0.6],
      [-2.9, 0.3],
    ] as const) {
      const share = cornerShares({ car: EXAMPLE_CAR, bars }, { x, y });
      expect(CORNERS.reduce((sum, corner) => sum + share[corner], 0)).toBeCloseTo(1, 10);
      expect(-wheelbase * (share.LR + share.RR)).toBeCloseTo(x, 10);
      const roll = (trackFront * (share.LF - share.RF) + trackRear * (share.LR - share.RR)) / 2;
      expect(roll).toBeCloseTo(y, 10);
    }
  });

  test('a mass on the centre line moves no cross', () => {
    const share = cornerShares({ car: EXAMPLE_CAR, bars: 'off' }, { x: -1, y: 0 });
    expect(share.LF).toBeCloseTo(share.RF, 10);
    expect(share.LR).toBeCloseTo(share.RR, 10);
  });
});

describe('masses that plates can make', () => {
  test('all of them, in the fewest plates, against trying every choice', () => {
    const random = createRandom(4);
    for (let run = 0; run < 30; run += 1) {
      const plates = [0.503, 1.25, 2, 5].map((mass, index) => ({
        id: `${index}`,
        name: '',
        mass,
        count: Math.floor(4 * random.uniform()),
      }));
      const fewest = new Map<number, number>();
      const go = (size: number, grams: number, count: number): void => {
        const own = plates[size];
        if (!own) return void fewest.set(grams, Math.min(count, fewest.get(grams) ?? Infinity));
        for (let n = 0; n <= own.count; n += 1)
          go(size + 1, grams + n * Math.round(1000 * own.mass), count + n);
      };
      go(0, 0, 0);
      const reachable = reachableMasses(plates);
      expect(reachable.all).toEqual(
        [...fewest]
          .map(([grams, count]) => ({ grams, plates: count }))
          .toSorted((a, b) => a.grams - b.grams),
      );
      for (const { grams, plates: count } of reachable.all) {
        const sizes = reachable.sizes(grams);
        expect(sizes.reduce((sum, n) => sum + n, 0)).toBe(count);
        expect(sizes.reduce((sum, n, i) => sum + n * Math.round(1000 * plates[i]!.mass), 0)).toBe(
          grams,
        );
        expect(sizes.every((n, i) => n <= plates[i]!.count)).toBe(true);
      }
    }
  });
});

const first = firstBallastPlan(problem) ?? [];
const theirs: Prediction = { shift: -0.5, between: 0.04, dof: 8, within: 0, limit: 0 };
const outcome = ballastOutcome(problem, first, {
  cross: 'RF+LR',
  theirs: { prediction: theirs, limit: { low: 1304, high: null } },
});

describe('what a plan makes of the car', () => {
  test('total and shares hold, and add up', () => {
    expect(outcome.broken).toEqual([]);
    expect(outcome.total).toBeCloseTo(1275 + outcome.ballast, 9);
    expect(outcome.ballast).toBe(30);
    expect(outcome.passing).toBeGreaterThan(0.9);
    const sum = CORNERS.reduce((total, corner) => total + outcome.loads[corner], 0);
    expect(outcome.crossShare).toBeCloseTo((outcome.loads.RF + outcome.loads.LR) / sum, 12);
  });

  test('another driver, less fuel and worn tyres: what they break is named', () => {
    const lighter = ballastOutcome(problem, first, {
      cross: 'RF+LR',
      theirs: { prediction: theirs, limit: { low: 1304, high: null } },
      changes: [
        { name: 'lighter driver', mass: -4, x: -1.3, y: 0.35 },
        { name: 'tyre wear', mass: -2, x: -1.35, y: 0 },
      ],
    });
    expect(lighter.total).toBeCloseTo(outcome.total - 6, 9);
    expect(lighter.broken).toEqual([
      { limit: 'total we must read', by: near(1304.5 - lighter.total, 9), unit: 'kg' },
    ]);
    expect(lighter.passing).toBeLessThan(0.01);
  });

  test('the height of the ballast is not known where one place’s is not', () => {
    const unknown = { ...problem, places: problem.places.map((place) => ({ ...place, z: null })) };
    expect(ballastOutcome(unknown, first, { cross: 'RF+LR', theirs: null })).toMatchObject({
      ballastHeight: null,
      passing: null,
    });
    expect(outcome.ballastHeight).toBeGreaterThan(0.1);
  });
});

test('fitted heaviest first, each step with what the pads should say, the cross last', () => {
  const steps = weighAgain(problem, first, outcome);
  const fitting = steps.filter(({ place }) => place !== null);
  const gains = fitting.map(({ total }, i) => total - (fitting[i - 1]?.total ?? 1275));
  expect(gains).toEqual(gains.toSorted((a, b) => b - a));
  expect(fitting.at(-1)?.total).toBeCloseTo(outcome.total, 9);
  for (const corner of CORNERS)
    expect(fitting.at(-1)?.loads[corner]).toBeCloseTo(outcome.loads[corner], 9);
  expect(fitting[0]?.text).toMatch(/Fix: two M8 bolts\.$/);
  expect(steps.at(-1)?.text).toMatch(/cross/);
});

test('nothing is put in where nothing is needed', () => {
  const light = { ...problem, total: { low: 1270, high: null } };
  expect(
    firstBallastPlan(light)
      ?.flat()
      .every((count) => count === 0),
  ).toBe(true);
});
