import { describe, expect, test } from 'vitest';
import type { BallastProblem } from '../../../core/scrutineering/ballastProblem.ts';
import { firstBallastPlan } from '../../../core/scrutineering/firstBallastPlan.ts';
import { worthOf } from '../../../core/scrutineering/ballastWorth.ts';
import type { BallastEnd } from '../../../core/scrutineering/ballastPlan.ts';
import { ballastPort } from '../../../drivers/solver/ballastPort.ts';
import { createSolver } from '../../../drivers/solver/highs.ts';
import { planBallast } from '../../../drivers/solver/planBallast.ts';
import { solveBallast } from '../../../drivers/solver/solveBallast.ts';
import { equalTracks, everyPlan, smallProblem } from '../../core/scrutineering/ballastCases.ts';

const solver = await createSolver();
const plan = (problem: BallastProblem, others = 0) =>
  planBallast(
    { problem, seconds: 10, others },
    { now: () => 0, loadSolver: async () => solver, better: () => undefined },
  );

describe('against trying every plan', () => {
  // 200 small cases in all.
  test.each([1, 51, 101, 151])(
    'fifty from %i on: the same mass and plates, or none for both',
    async (from) => {
      const counted = { plans: 0, none: 0 };
      for (let seed = from; seed < from + 50; seed += 1) {
        const problem = equalTracks(smallProblem(seed));
        const all = everyPlan(problem);
        const [best] = all;
        const result = await plan(problem);
        if (!best) {
          expect(result.kind, `${seed}`).toBe('no plan');
          expect(firstBallastPlan(problem), `${seed}`).toBeNull();
          counted.none += 1;
          continue;
        }
        if (result.kind !== 'plan') throw new Error(`case ${seed}: ${result.kind}`);
        const { steps, plates } = best.worth;
        const { isProved, worth, bound, counts } = result.best;
        expect({ isProved, ...worth, bound, counts: worthOf(problem, counts) }, `${seed}`).toEqual({
          isProved: true,
          steps,
          plates,
          grams: worth.grams,
          bound: { steps, plates },
          counts: worth,
        });
        expect(all.map((one) => JSON.stringify(one.counts))).toContain(JSON.stringify(counts));
        counted.plans += 1;
      }
      // The cases are of both kinds, else nothing was shown.
      expect(counted.plans).toBeGreaterThan(12);
      expect(counted.none).toBeGreaterThan(5);
    },
  );

  test('the next best plans are the next of the list, none twice', async () => {
    let compared = 0;
    for (let seed = 1; seed <= 60; seed += 1) {
      const problem = equalTracks(smallProblem(seed));
      const all = everyPlan(problem);
      if (all.length === 0) continue;
      const result = await plan(problem, 3);
      if (result.kind !== 'plan') throw new Error(`case ${seed}: ${result.kind}`);
      const plans = [result.best, ...result.others];
      expect(
        plans.map(({ worth: { steps, plates } }) => ({ steps, plates })),
        `${seed}`,
      ).toEqual(all.slice(0, 4).map(({ worth: { steps, plates } }) => ({ steps, plates })));
      expect(new Set(plans.map(({ counts }) => JSON.stringify(counts))).size).toBe(plans.length);
      if (plans.length > 1) compared += 1;
    }
    expect(compared).toBeGreaterThan(10);
  });
});

/** A car that lacks 12 kg at the front. */
const lacking: BallastProblem = {
  ...equalTracks(smallProblem(1)),
  loads: { LF: 305, RF: 305, LR: 339, RR: 339 },
  bars: 'off',
  total: { low: 1300, high: null },
  frontShare: { low: 0.472, high: 0.478 },
  leftShare: { low: 0.498, high: 0.502 },
  mostBallast: null,
  places: [
    { x: 0.3, y: 0.5 },
    { x: 0.3, y: -0.5 },
    { x: -2, y: 0 },
  ].map((place, index) => ({
    id: `p${index}`,
    name: ['left front tray', 'right front tray', 'rear tray'][index] as string,
    z: 0.1,
    leastMass: null,
    mostMass: 10,
    mostPlates: null,
    takes: null,
    fixing: 'two bolts',
    ...place,
  })),
  plates: [
    { id: 's5', name: '5 kg', mass: 5, count: 2 },
    { id: 's2', name: '2 kg', mass: 2, count: 4 },
  ],
};

describe('limits that no ballast can meet are named', () => {
  const inTheWay = async (change: Partial<BallastProblem>): Promise<readonly string[]> => {
    const result = await plan({ ...lacking, ...change });
    if (result.kind !== 'no plan') throw new Error(result.kind);
    return result.inTheWay.map(({ limit, by, unit }) => `${limit}: ${by.toFixed(2)} ${unit}`);
  };

  test('as it is there is a plan', async () => {
    expect((await plan(lacking)).kind).toBe('plan');
  });

  test('less ballast allowed than is needed', async () => {
    // 12 kg are needed, in plates of 5 and 2 kg.
    expect(await inTheWay({ mostBallast: 8 })).toEqual([
      'total we must read: 4.00 kg',
      'most ballast allowed: 4.00 kg',
    ]);
  });

  test('a front share out of reach', async () => {
    const named = await inTheWay({ frontShare: { low: 0.49, high: 0.5 } });
    expect(named).toHaveLength(1);
    expect(named[0]).toMatch(/^front share at least 49 %: \d+\.\d\d kg$/);
  });

  test('too few plates', async () => {
    const few = [{ id: 's5', name: '5 kg', mass: 5, count: 2 }];
    expect(await inTheWay({ plates: few })).toEqual([
      'total we must read: 2.00 kg',
      'plates owned of 5 kg: 1.00 plates',
    ]);
  });

  test('mass that must be at a place is put there, and in the way where it may not', async () => {
    const must = (leastMass: number): BallastProblem['places'] =>
      lacking.places.map((place) => (place.id === 'p2' ? { ...place, leastMass } : place));
    const result = await plan({
      ...lacking,
      places: must(2),
      frontShare: { low: null, high: null },
    });
    if (result.kind !== 'plan') throw new Error(result.kind);
    expect(2 * result.best.counts[2]![1]! + 5 * result.best.counts[2]![0]!).toBeGreaterThanOrEqual(
      2,
    );
    // Both plates of 5 kg at the rear leave 8 kg for the front: 621.5 of 1306 kg, 47.59 %.
    expect(
      await inTheWay({ places: must(10), frontShare: { low: 0.4765, high: 0.48 } }),
    ).toContainEqual(expect.stringMatching(/^mass that must be at rear tray: /));
  });

  test('no single limit prevents a plan: those that do together', async () => {
    const result = await plan({
      ...lacking,
      mostBallast: 8,
      frontShare: { low: 0.49, high: 0.5 },
    });
    if (result.kind !== 'no plan') throw new Error(result.kind);
    expect(result.together).toBe(true);
    expect(result.inTheWay.map(({ limit }) => limit)).toContain('front share at least 49 %');
    expect(result.inTheWay.length).toBeGreaterThan(1);
  });
});

describe('in the worker', () => {
  test('as the bench has it: every better plan, then the end; ended at once when it is cancelled', async () => {
    const heard: string[] = [];
    const { promise, resolve } = Promise.withResolvers<BallastEnd>();
    ballastPort.solve(lacking, { better: () => heard.push('better'), ended: resolve });
    expect((await promise).kind).toBe('plan');
    expect(heard.length).toBeGreaterThan(0);
    const ends: BallastEnd[] = [];
    const cancel = ballastPort.solve(lacking, {
      better: () => undefined,
      ended: (end) => ends.push(end),
    });
    await cancel();
    expect(ends).toEqual([{ kind: 'cancelled' }]);
  });

  test('better plans come while it runs, and the end says what was proved', async () => {
    const heard: string[] = [];
    const { end } = solveBallast({ problem: lacking, seconds: 10, others: 2 }, (better) =>
      heard.push(`${better.worth.grams} g in ${better.worth.plates}`),
    );
    const result = await end;
    if (result.kind !== 'plan') throw new Error(result.kind);
    expect(result.best).toMatchObject({ isProved: true, worth: { grams: 12000, plates: 3 } });
    expect(result.others).toHaveLength(2);
    expect(heard.at(-1)).toBe('12000 g in 3');
  });

  test('cancelled before it ends', async () => {
    const solving = solveBallast({ problem: lacking, seconds: 10, others: 2 }, () => undefined);
    solving.cancel();
    expect(await solving.end).toEqual({ kind: 'cancelled' });
    // A second time changes nothing.
    solving.cancel();
  });

  test('a problem that is none is refused with what to do', async () => {
    const problem: BallastProblem = {
      ...lacking,
      frontShare: { low: 47.2, high: 47.8 },
      plates: [{ id: 's', name: '5 kg', mass: 5, count: 1.5 }],
      places: [{ ...lacking.places[0]!, x: -1350, takes: ['none'] }],
    };
    const { end } = solveBallast({ problem, seconds: 10, others: 0 }, () => undefined);
    expect(await end).toEqual({
      kind: 'refused',
      why: [
        'Front share: a limit is between 0 and 100 %.',
        '5 kg: how many are owned is a whole number.',
        'left front tray: it lies beside the car. Positions are in metres from the front axle.',
        'left front tray: takes a size “none” that is not owned.',
      ],
    });
  });
});
