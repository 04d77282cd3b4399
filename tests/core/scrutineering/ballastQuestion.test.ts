import { describe, expect, test } from 'vitest';
import { ballastAnswer } from '../../../core/answers/ballastAnswer.ts';
import type { BallastShown } from '../../../core/contract/scrutineering.ts';
import { ballastQuestion, massChanges } from '../../../core/scrutineering/ballastQuestion.ts';
import { checkBallast } from '../../../core/scrutineering/ballastProblem.ts';
import { newAuthority } from '../../../core/scrutineering/keptScrutineering.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import { EXAMPLE_CAR_STATE } from '../../../core/sheet/carState.ts';
import { LEVEL_WEIGHTS } from '../sheet/sampleRecord.ts';
import { near } from './near.ts';

const FREE = { low: null, high: null };
const authority = {
  ...newAuthority('Meridian Trophy'),
  reads: { seatMass: 75, fuelMass: 5, tyres: null },
  ballast: { most: 30, mostPlates: 6, notAt: [], fixing: 'two bolts' },
};
const asked = (change: Partial<Parameters<typeof ballastQuestion>[0]> = {}) =>
  ballastQuestion({
    car: EXAMPLE_CAR,
    loads: LEVEL_WEIGHTS,
    state: EXAMPLE_CAR_STATE,
    authority,
    total: {
      limit: { low: 1290, high: null },
      prediction: { shift: 1, between: 0.04, dof: Infinity, within: 0, limit: 0 },
      whyNone: null,
    },
    plates: [
      { id: 'five', name: '5 kg', mass: 5, count: 4 },
      { id: 'gone', name: '2 kg', mass: 2, count: 0 },
    ],
    wish: { frontShare: { low: 0.47, high: 0.48 }, leftShare: FREE, onBoard: {} },
    ...change,
  });
const problemOf = (change: Parameters<typeof asked>[0] = {}) => {
  const question = asked(change);
  if (!question.ok) throw new Error(question.why);
  return question.problem;
};
const sum = (loads: Readonly<Record<'LF' | 'RF' | 'LR' | 'RR', number>>): number =>
  loads.LF + loads.RF + loads.LR + loads.RR;

describe('the problem', () => {
  test('the car with their seat and fuel, what we must read, the rules and the plates', () => {
    const problem = problemOf();
    // 1305 kg less 5 kg of seat and 15 kg of fuel.
    expect(sum(problem.loads)).toBeCloseTo(1285, 6);
    // 1290 − 1 + 2.326 · 0.2 (one-sided 99 % of the normal distribution).
    expect(problem.total).toEqual({ low: near(1290 - 1 + 2.3263 * 0.2, 3), high: null });
    expect(problem).toMatchObject({ mostBallast: 30, bars: 'off', leftShare: FREE });
    expect(problem.plates.map(({ id }) => id)).toEqual(['five']);
    expect(problem.places[0]).toMatchObject({ mostPlates: 6, mostMass: 20, fixing: 'two bolts' });
    expect(checkBallast(problem)).toEqual([]);
  });

  test('ballast that was on board is taken out at its place, by moments', () => {
    const { loads } = problemOf({
      authority: { ...authority, reads: { seatMass: null, fuelMass: null, tyres: null } },
      wish: { frontShare: FREE, leftShare: FREE, onBoard: { nose: 10 } },
    });
    expect(sum(loads)).toBeCloseTo(1295, 6);
    // 10 kg at x = +0.45 m of a wheelbase of 2.7 m: 10·(1 + 0.45/2.7) kg off the front axle.
    expect(loads.LF + loads.RF).toBeCloseTo(619.875 - 10 * (1 + 0.45 / 2.7), 6);
  });

  test('a place that the rules bar is not used; mass that must be somewhere is kept', () => {
    const ballast = { ...authority.ballast, notAt: ['nose'] };
    expect(problemOf({ authority: { ...authority, ballast } }).places.map(({ id }) => id)).toEqual([
      'floor',
    ]);
    const details = EXAMPLE_CAR.details!;
    const car = {
      ...EXAMPLE_CAR,
      details: {
        ...details,
        ballastPlaces: details.ballastPlaces.map((place) => ({ ...place, least: 5 })),
      },
    };
    expect(problemOf({ car }).places.map(({ leastMass }) => leastMass)).toEqual([5, 5]);
  });

  test('what is missing is said with what to do', () => {
    const why = (change: Parameters<typeof asked>[0]): string => {
      const question = asked(change);
      return question.ok ? 'a problem' : question.why;
    };
    expect(why({ loads: null })).toMatch(/Weigh the car first/u);
    expect(why({ plates: [] })).toMatch(/which plates you own/u);
    expect(why({ total: null })).toMatch(/add its limit/u);
    expect(why({ car: { ...EXAMPLE_CAR, details: null } })).toMatch(/No place for ballast/u);
    expect(
      why({
        total: { limit: { low: 1290, high: null }, prediction: null, whyNone: 'No pair yet.' },
      }),
    ).toBe('No pair yet.');
    expect(why({ authority: { ...authority, wished: 0.4 } })).toMatch(/wished confidence/u);
  });

  test('what is not known is a note', () => {
    const question = asked({
      authority: { ...authority, reads: { seatMass: null, fuelMass: 5, tyres: null } },
      state: { ...EXAMPLE_CAR_STATE, barsFree: 'not checked' },
    });
    expect(question.ok && question.notes).toEqual([
      'The seat mass is not said for both readings: taken as when we weighed.',
      'Bars were not checked: the predicted cross takes them as on.',
    ]);
  });
});

test('other masses come at their places; where the car does not say them, at its centre', () => {
  const { changes, notes } = massChanges(EXAMPLE_CAR, LEVEL_WEIGHTS, {
    seat: 5,
    fuel: 0,
    wear: -2,
  });
  expect(changes).toEqual([
    { name: 'driver', mass: 5, x: -1.35, y: 0.36 },
    { name: 'wear', mass: -2, x: -1.35, y: 0 },
  ]);
  expect(notes).toEqual([]);
  const bare = massChanges({ ...EXAMPLE_CAR, details: null }, LEVEL_WEIGHTS, {
    seat: 5,
    fuel: 0,
    wear: 0,
  });
  // Centre of gravity of the design check values: front 47.5 %, 6 mm left.
  expect(bare.changes).toEqual([
    { name: 'driver', mass: 5, x: near(-2.7 * 0.525, 4), y: near(0.006, 3) },
  ]);
  expect(bare.notes).toHaveLength(1);
});

describe('what has come of planning, in words', () => {
  const plan = {
    counts: [[2]],
    worth: { grams: 12_500, steps: 125, plates: 3 },
    isProved: false,
    bound: { steps: 120, plates: 2 },
  };
  const text = (change: Partial<Pick<BallastShown, 'best' | 'standing'>>): string =>
    ballastAnswer({ best: plan, standing: { is: 'planned' }, ...change }, 'kg').text.replaceAll(
      '\u00a0',
      ' ',
    );

  test.each([
    [{ best: null, standing: { is: 'searching' } }, 'Looking for a plan.'],
    [
      { standing: { is: 'searching' } },
      'So far: 12.50 kg in 3 plates. No plan is better than 12.00 kg in 2 plates.',
    ],
    [{}, '12.50 kg in 3 plates. Not proved. No plan is better than 12.00 kg in 2 plates.'],
    [
      { best: { ...plan, isProved: true } },
      '12.50 kg in 3 plates. Proved: none is lighter, or as light in fewer plates.',
    ],
    [
      { standing: { is: 'cancelled' }, best: { ...plan, bound: null } },
      'Ended early. Best so far: 12.50 kg in 3 plates. How much better a plan can be is not known yet.',
    ],
    [
      {
        best: null,
        standing: {
          is: 'no plan',
          inTheWay: [
            { limit: 'most ballast allowed', by: 4, unit: 'kg' },
            { limit: 'plates owned of 5 kg', by: 1, unit: 'plates' },
          ],
          together: false,
        },
      },
      'No plan keeps every limit. Without any one of these there is a plan: most ballast allowed, missed by 4.00 kg and plates owned of 5 kg, missed by 1 plate.',
    ],
    [
      { standing: { is: 'failed', why: 'out of memory' } },
      'The solver stopped: out of memory. Best so far: 12.50 kg in 3 plates.',
    ],
  ] as const)('%o', (change, expected) => {
    expect(text(change as Parameters<typeof text>[0])).toBe(expected);
  });

  test('no ballast is an answer too', () => {
    const none = { ...plan, worth: { grams: 0, steps: 0, plates: 0 }, isProved: true };
    expect(text({ best: none })).toMatch(/^No ballast is needed\./u);
  });
});
