import { expect, onTestFinished, test } from 'vitest';
import type { BallastPort } from '../../../core/bench/ports.ts';
import type { BallastEnd, BallastPlan } from '../../../core/scrutineering/ballastPlan.ts';
import type { BallastProblem } from '../../../core/scrutineering/ballastProblem.ts';
import { newAuthority } from '../../../core/scrutineering/keptScrutineering.ts';
import { ballastProblemSchema } from '../../../core/contract/scrutineering.ts';
import { joinBench, RefusedError } from '../../support/benchScreen.ts';
import { startPracticeBench } from '../../support/practiceBench.ts';
import { temporaryFolder } from '../../support/temporaryFolder.ts';
import { smallProblem } from '../scrutineering/ballastCases.ts';

/** Ballast is planned for all screens together, and what screens keep of scrutineering is there again. */

/** As a screen sends it: plain data. */
const asSent = (problem: BallastProblem) =>
  ballastProblemSchema.parse(JSON.parse(JSON.stringify(problem)));
const problem = asSent(smallProblem(1));

const planOf = (grams: number, isProved: boolean): BallastPlan => ({
  counts: problem.places.map(() => problem.plates.map(() => 1)),
  worth: { grams, steps: Math.ceil(grams / 100), plates: 3 },
  isProved,
  bound: isProved ? { steps: Math.ceil(grams / 100), plates: 3 } : null,
});

/** A planner that finds what the test hands it. */
const createPlanner = () => {
  const runs: {
    better: (plan: BallastPlan) => void;
    ended: (end: BallastEnd) => void;
    cancelled: boolean;
  }[] = [];
  const port: BallastPort = {
    solve: (_problem, told) => {
      const run = { ...told, cancelled: false };
      runs.push(run);
      return async () => {
        if (run.cancelled) return;
        run.cancelled = true;
        told.ended({ kind: 'cancelled' });
      };
    },
  };
  return { runs, port };
};

const start = (ballast: BallastPort) => {
  const started = startPracticeBench({ dir: temporaryFolder(), source: 'rig', ballast });
  onTestFinished(() => started.stop());
  return started;
};

test('every screen sees the best so far, the proof, the next best, and what was asked', async () => {
  const { runs, port } = createPlanner();
  const { bench, screen, run } = start(port);
  const other = joinBench(bench);
  onTestFinished(() => other.leave());
  expect(screen.state.ballast).toBeNull();

  await screen.command({ do: 'plan ballast', problem });
  await run(0.2);
  expect(other.state.ballast).toMatchObject({ problem, best: null, standing: { is: 'searching' } });

  runs[0]!.better(planOf(12_000, false));
  await run(0.2);
  expect(other.state.ballast).toMatchObject({
    best: { worth: { grams: 12_000 }, isProved: false, bound: null },
    standing: { is: 'searching' },
  });

  runs[0]!.ended({ kind: 'plan', best: planOf(11_500, true), others: [planOf(12_000, true)] });
  await run(0.2);
  expect(other.state.ballast).toEqual({
    id: expect.any(String) as unknown,
    problem,
    best: planOf(11_500, true),
    others: [planOf(12_000, true)],
    standing: { is: 'planned' },
  });
});

test('cancelled: the best so far stays; a new one gives up the old, which says no more', async () => {
  const { runs, port } = createPlanner();
  const { screen, run } = start(port);
  await screen.command({ do: 'plan ballast', problem });
  runs[0]!.better(planOf(12_000, false));
  await screen.command({ do: 'cancel ballast' });
  await run(0.2);
  expect(screen.state.ballast).toMatchObject({
    best: { worth: { grams: 12_000 } },
    standing: { is: 'cancelled' },
  });
  // Nothing is at work: it changes nothing.
  await screen.command({ do: 'cancel ballast' });

  await screen.command({ do: 'plan ballast', problem });
  await screen.command({ do: 'plan ballast', problem });
  expect(runs.map(({ cancelled }) => cancelled)).toEqual([true, true, false]);
  runs[1]!.better(planOf(9000, true));
  await run(0.2);
  expect(screen.state.ballast).toMatchObject({ best: null, standing: { is: 'searching' } });
});

test('what is in the way is said, and a solver that stops leaves its best', async () => {
  const { runs, port } = createPlanner();
  const { screen, run } = start(port);
  const inTheWay = [{ limit: 'most ballast allowed', by: 4, unit: 'kg' }] as const;
  await screen.command({ do: 'plan ballast', problem });
  runs[0]!.ended({ kind: 'no plan', inTheWay, together: false });
  await run(0.2);
  expect(screen.state.ballast).toMatchObject({
    best: null,
    standing: { is: 'no plan', inTheWay, together: false },
  });
  await screen.command({ do: 'plan ballast', problem });
  runs[1]!.better(planOf(12_000, false));
  runs[1]!.ended({ kind: 'failed', why: 'out of memory' });
  await run(0.2);
  expect(screen.state.ballast).toMatchObject({
    best: { worth: { grams: 12_000 } },
    standing: { is: 'failed', why: 'out of memory' },
  });
});

test('a wrong problem is refused with what to do, and what was planned before stays', async () => {
  const { runs, port } = createPlanner();
  const { screen, run } = start(port);
  await screen.command({ do: 'plan ballast', problem });
  runs[0]!.ended({ kind: 'plan', best: planOf(11_500, true), others: [] });
  const wrong = { ...problem, frontShare: { low: 47, high: 48 } };
  const refused = await screen
    .command({ do: 'plan ballast', problem: wrong })
    .catch((error: unknown) => error);
  expect(refused).toBeInstanceOf(RefusedError);
  expect((refused as RefusedError).refusal).toMatchObject({
    why: 'Front share: a limit is between 0 and 100 %.',
    next: 'Correct it, then plan again.',
  });
  await run(0.2);
  expect(runs).toHaveLength(1);
  expect(screen.state.ballast).toMatchObject({ standing: { is: 'planned' } });
});

test('a plan of the practice car is not shown for a real one, nor its pairs; what is owned is', async () => {
  const { port } = createPlanner();
  const { screen, run, settle } = start(port);
  await run(0.5);
  const head = { id: 'x', at: 0, practice: false } as const;
  const state = { seatMass: 80, fuelMass: null, tyres: 'cold' } as const;
  await screen.command({
    do: 'keep',
    record: {
      ...head,
      kind: 'authority',
      subject: 'series',
      authority: newAuthority('Meridian Trophy'),
      isAside: false,
    },
  });
  await screen.command({
    do: 'keep',
    record: {
      ...head,
      kind: 'plates',
      subject: 'five',
      size: { id: 'five', name: '5 kg', mass: 5, count: 4 },
    },
  });
  await screen.command({
    do: 'keep',
    record: {
      ...head,
      kind: 'pair',
      subject: 'series',
      isAside: false,
      pair: {
        id: 'pair-1',
        item: 'total',
        carId: screen.state.car.id,
        event: 'round 1',
        label: 'Larkfell',
        day: 20_500,
        ours: 1304.2,
        theirs: 1305,
        gravity: { taken: 9.8137, there: 9.7924 },
        states: { ours: state, theirs: state },
      },
    },
  });
  await screen.command({
    do: 'keep',
    record: {
      ...head,
      kind: 'ballast plan',
      subject: screen.state.car.id,
      problem,
      plan: planOf(11_500, true),
      authorityId: 'series',
    },
  });
  await screen.command({ do: 'plan ballast', problem });
  await run(0.2);
  expect(screen.state.ballast).not.toBeNull();

  const count = async (kind: 'authority' | 'plates' | 'pair' | 'ballast plan'): Promise<number> => {
    const result = await screen.command({ do: 'open kept', kind, subject: null });
    return result.is === 'kept' ? result.records.length : -1;
  };
  const counts = async () => [
    await count('authority'),
    await count('plates'),
    await count('pair'),
    await count('ballast plan'),
  ];
  expect(await counts()).toEqual([1, 1, 1, 1]);
  await settle(screen.command({ do: 'choose pads', source: 'bluetooth' }));
  await run(0.2);
  expect(screen.state.ballast).toBeNull();
  expect(await counts()).toEqual([1, 1, 0, 0]);
});
