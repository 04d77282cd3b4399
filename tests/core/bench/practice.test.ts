import { expect, onTestFinished, test } from 'vitest';
import { warpLoadChange } from '../../../core/adjust/warp.ts';
import { captureMarks } from '../../../core/answers/captureChange.ts';
import type { Capture } from '../../../core/contract/records.ts';
import { DEFAULT_SETTINGS } from '../../../core/contract/settings.ts';
import { CORNERS, perCorner } from '../../../core/corners.ts';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import type { RefusedError } from '../../support/benchScreen.ts';
import { startPracticeBench, type PracticeBench } from '../../support/practiceBench.ts';
import { temporaryFolder } from '../../support/temporaryFolder.ts';

/** The whole chain, from the rig's bytes to a stored capture, on a driven clock. */

/** The closed form of the warp has no shift of the centre of gravity under tilt. */
const CG_ON_THE_GROUND = { ...EXAMPLE_CAR, cgHeight: null };

const start = (options: Parameters<typeof startPracticeBench>[0]): PracticeBench => {
  const bench = startPracticeBench(options);
  onTestFinished(() => bench.stop());
  return bench;
};

const settled = (bench: PracticeBench): Promise<void> =>
  bench.runUntil(
    () => bench.screen.frame?.stillness === 'settled' && bench.screen.frame.notReady === null,
    60,
  );

const capture = async (bench: PracticeBench): Promise<Capture> => {
  const result = await bench.settle(
    bench.screen.command({ do: 'capture', phase: 'check', note: 'as lowered' }),
  );
  if (result.is !== 'captured') throw new Error(result.is);
  return result.capture;
};

const refusal = async (bench: PracticeBench, doing: Promise<unknown>): Promise<string> =>
  bench.settle(
    doing.then(
      () => 'done',
      (error: RefusedError) => error.message,
    ),
  );

const onPads = (bench: PracticeBench): Promise<void> =>
  bench.runUntil(() => bench.rig.practice.state().car === 'on the pads', 60);

test('the rig chosen: four pads, a zero, the car lowered, settled, captured, there after a restart', async () => {
  const dir = temporaryFolder();
  const bench = startPracticeBench({ dir, source: 'rig', rig: { friction: 0 } });
  await onPads(bench);
  await settled(bench);
  const truth = bench.rig.truth();
  const taken = await capture(bench);

  // The rig's own loads, which no pad says; its pads' spans are off by up to a few tenths of a per mille.
  for (const corner of CORNERS) {
    const { mass, padSerial } = taken.corners[corner];
    const span = truth.pads.find((pad) => pad.serial === padSerial)?.spanError ?? Number.NaN;
    const expected = (truth.loads[corner] * (1 + span)) / truth.gravity;
    expect(Math.abs(mass.value - expected)).toBeLessThan(0.05);
    expect(mass.u).toBeGreaterThan(0);
    expect(mass.u).toBeLessThan(0.05);
  }
  expect(taken.balance.total.value).toBeCloseTo(1305, 0);
  expect(taken).toMatchObject({ number: 1, practice: true, carName: 'Heron R2', phase: 'check' });
  expect(CORNERS.map((corner) => taken.corners[corner].calibrated)).toEqual(Array(4).fill(false));
  await bench.stop();

  const again = startPracticeBench({ dir, source: 'rig', restarted: true });
  onTestFinished(() => again.stop());
  await again.run(0.2);
  expect(again.screen.state.captures).toEqual([taken]);
  expect(again.screen.state.faults.map((each) => each.code)).toContain('bench-restarted');
  const opened = await again.settle(again.screen.command({ do: 'open capture', id: taken.id }));
  if (opened.is !== 'capture opened') throw new Error(opened.is);
  for (const corner of CORNERS) {
    expect(opened.window[corner].raw).toHaveLength(
      taken.corners[corner].samples + taken.corners[corner].spikes,
    );
    expect(opened.window[corner].t[0]).toBeGreaterThanOrEqual(0);
  }
});

test('one perch turned: the captures differ by the warp of the closed form, friction apart', async () => {
  const bench = start({
    dir: temporaryFolder(),
    source: 'rig',
    rig: { friction: 0, car: CG_ON_THE_GROUND },
  });
  await onPads(bench);
  await settled(bench);
  const before = await capture(bench);
  await bench.settle(bench.screen.command({ do: 'turn practice perch', corner: 'RF', turns: 1 }));
  await bench.run(4);
  await settled(bench);
  const after = await capture(bench);

  const seat = EXAMPLE_CAR.perchPitch / EXAMPLE_CAR.motionRatios.RF;
  const level = perCorner(() => 0);
  // Closed form of the warp, design of the car on four springs: see core/adjust/warp.ts.
  const expected = warpLoadChange(EXAMPLE_CAR, { ...level, RF: seat }, level);
  for (const corner of CORNERS) {
    const change = after.corners[corner].mass.value - before.corners[corner].mass.value;
    expect(change).toBeCloseTo(expected[corner] / after.gravity, 1);
  }
  expect(after.balance.crossShare.value).toBeGreaterThan(before.balance.crossShare.value);
});

test('each thing in the way of a capture is named with its corner', async () => {
  const bench = start({ dir: temporaryFolder(), source: 'bluetooth' });
  const { screen, rig } = bench;
  const tryCapture = (): Promise<string> =>
    refusal(bench, screen.command({ do: 'capture', phase: 'check', note: '' }));

  await bench.run(6);
  expect(await tryCapture()).toMatch(/^Left front: no pad is there/);
  for (const corner of CORNERS)
    await bench.settle(
      screen.command({ do: 'assign pad', serial: rig.practice.pads[corner], corner }),
    );
  await bench.runUntil(() => bench.screen.frame?.stillness === 'settled', 10);
  expect(await tryCapture()).toMatch(/^Left front has no zero/);
  expect(await refusal(bench, screen.command({ do: 'zero' }))).toBe('done');
  await bench.run(0.1);
  await bench.runUntil(() => bench.screen.frame?.stillness === 'settled', 10);
  expect(bench.screen.frame?.notReady).toBe('Nothing stands on the pads.');
  expect(await tryCapture()).toMatch(/^Nothing stands on the pads/);

  rig.practice.lower();
  await bench.run(2);
  expect(await tryCapture()).toMatch(/has not settled/);
  await onPads(bench);
  await settled(bench);

  rig.happen({ do: 'fade', pad: 'RR', seconds: 3 });
  await bench.run(1);
  expect(screen.frame?.corners.RR).toMatchObject({ status: 'stale', mean: null, stillness: null });
  expect(screen.frame?.balance).toBeNull();
  expect(await tryCapture()).toMatch(/^Right rear: nothing heard for/);
  await bench.run(6);
  await settled(bench);

  // With the car's weight on them the pads cannot be called empty.
  expect(await refusal(bench, screen.command({ do: 'zero' }))).toMatch(/too much load/);
  expect((await capture(bench)).practice).toBe(false);
});

test('the zero read again after raising is noted on the capture', async () => {
  const bench = start({ dir: temporaryFolder(), source: 'rig' });
  await onPads(bench);
  await settled(bench);
  const taken = await capture(bench);
  expect(taken.zeroShift).toBeNull();
  await bench.settle(bench.screen.command({ do: 'raise practice car' }));
  await bench.runUntil(() => bench.rig.practice.state().car === 'raised', 60);
  await bench.run(3);
  await bench.runUntil(() => bench.screen.frame?.stillness === 'settled', 60);
  await bench.settle(bench.screen.command({ do: 'check zero' }));
  await bench.run(0.3);
  const shift = bench.screen.state.captures[0]?.zeroShift;
  // Creep and drift of the simulated pads are of grams; a wrong sign or unit would be hundreds.
  for (const corner of CORNERS) expect(Math.abs(shift?.[corner] ?? Number.NaN)).toBeLessThan(0.1);
});

test('a spare takes a corner over and the old pad becomes the spare', async () => {
  const bench = start({ dir: temporaryFolder(), source: 'rig' });
  await bench.runUntil(
    () => bench.screen.state.pads.filter((pad) => pad.phase === 'live').length === 5,
    10,
  );
  const spare = bench.screen.state.pads.find((pad) => pad.corner === null)?.serial ?? '';
  const before = bench.screen.state.assigned.LR;
  await bench.settle(bench.screen.command({ do: 'assign pad', serial: spare, corner: 'LR' }));
  await bench.run(0.3);
  expect(bench.screen.state.assigned.LR).toBe(spare);
  expect(bench.screen.state.pads.find((pad) => pad.serial === before)?.corner).toBeNull();
});

test('while the car still moves it is said where it is going, as provisional; waiting agrees', async () => {
  const bench = start({ dir: temporaryFolder(), source: 'rig' });
  const early: { readonly t: number; readonly kg: number; readonly u: number }[] = [];
  await bench.runUntil(() => {
    const frame = bench.screen.frame;
    if (frame?.early && bench.rig.practice.state().car === 'on the pads')
      early.push({ t: frame.t, kg: frame.early.masses.LF.value, u: frame.early.masses.LF.u });
    return frame?.stillness === 'settled' && frame.notReady === null;
  }, 90);
  const settledAt = bench.screen.frame?.t ?? 0;
  const kg = bench.screen.frame?.corners.LF.mean ?? Number.NaN;
  expect(early.length).toBeGreaterThan(0);
  // Said before it is measured, and true within what it says of itself (four standard uncertainties).
  expect(early[0]?.t).toBeLessThan(settledAt);
  const last = early.at(-1);
  expect(Math.abs((last?.kg ?? Number.NaN) - kg)).toBeLessThan(4 * (last?.u ?? 0) + 0.1);
  // At rest there is nothing provisional, and nothing of it is captured unless it is asked for.
  expect(bench.screen.frame?.early).toBeNull();
  bench.rig.practice.turn('RF', 1);
  await bench.runUntil(() => bench.screen.frame?.early !== null, 30);
  const result = await bench.settle(
    bench.screen.command({ do: 'capture', phase: 'check', note: '', isEarly: true }),
  );
  if (result.is !== 'captured') throw new Error(result.is);
  expect(captureMarks(result.capture, DEFAULT_SETTINGS)).toContain('provisional');
}, 60_000);
