/**
 * The whole job without a screen: the practice rig's pads on the air as real Bluetooth peripherals,
 * the real Bluetooth library on the other side of a virtual radio, bench and database between them.
 * The radio libraries cannot be stopped, so the process ends itself when all is done.
 */
import assert from 'node:assert/strict';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { createBench } from '../../core/bench/bench.ts';
import type { Capture } from '../../core/contract/records.ts';
import { CORNERS } from '../../core/corners.ts';
import { createPadsDriver } from '../../drivers/pads/padsDriver.ts';
import { padDescriptions } from '../../drivers/pads/protocol/description/descriptionPort.ts';
import { createRandom } from '../../drivers/pads/rig/random.ts';
import { createRig, RIG_NOISE_LEVELS } from '../../drivers/pads/rig/rig.ts';
import { createPapers } from '../../electron/papers.ts';
import { FONT_FOLDER } from '../support/fontFolder.ts';
import { testGuests } from '../support/testGuests.ts';
import { ballastPort } from '../../drivers/solver/ballastPort.ts';
import { openStore } from '../../drivers/store/open.ts';
import { createRealScheduler, newId, wallClock } from '../../electron/clock.ts';
import { joinBench, type BenchScreen } from '../support/benchScreen.ts';
import { openAir } from '../virtual-radio/air.ts';
import { captureTable, changeTable, zeroShiftLine } from './tables.ts';

const USAGE = 'npm run rehearse -- [--json] [--seed N] [--noise quiet|normal|harsh]';

const readOptions = () => {
  const { values } = parseArgs({
    options: {
      json: { type: 'boolean', default: false },
      seed: { type: 'string', default: '1' },
      noise: { type: 'string', default: 'normal' },
    },
  });
  const noise = RIG_NOISE_LEVELS.find((level) => level === values.noise);
  const seed = Number(values.seed);
  if (!noise) throw new Error(`--noise ${values.noise} is none of ${RIG_NOISE_LEVELS.join(', ')}`);
  if (!Number.isSafeInteger(seed)) throw new Error(`--seed ${values.seed} is not a whole number`);
  return { json: values.json, seed, noise };
};

const options = (() => {
  try {
    return readOptions();
  } catch (error) {
    process.stderr.write(`${(error as Error).message}\n${USAGE}\n`);
    return process.exit(2);
  }
})();

const say = (line: string): void => {
  if (!options.json) process.stdout.write(`${line}\n`);
};

/** Waits for what must come true, or ends the rehearsal saying what did not. */
const waitFor = async (
  screen: BenchScreen,
  what: string,
  deadlineMs: number,
  holds: (screen: BenchScreen) => boolean,
): Promise<void> => {
  const { promise: late, reject } = Promise.withResolvers<never>();
  const timer = setTimeout(() => {
    const why = screen.frame?.notReady ?? 'no frame came';
    reject(new Error(`${what}: not within ${deadlineMs / 1000} s (${why})`));
  }, deadlineMs);
  try {
    await Promise.race([screen.until(holds), late]);
  } finally {
    clearTimeout(timer);
  }
};

const stillness = (screen: BenchScreen): Promise<void> =>
  waitFor(screen, 'settle', 90_000, ({ frame }) => frame?.stillness === 'settled');

const capture = async (screen: BenchScreen, note: string): Promise<Capture> => {
  const result = await screen.command({ do: 'capture', phase: 'set-up', note });
  if (result.is !== 'captured') throw new Error(`capture: ${result.is}`);
  return result.capture;
};

const rehearse = async (dir: string): Promise<void> => {
  const scheduler = createRealScheduler();
  const rig = createRig({ scheduler, seed: options.seed, noise: options.noise });
  const air = await openAir(rig.devices, { seed: options.seed });
  const opened = openStore({ dir, wallClock, newId, now: scheduler.now });
  if (!opened.ok) throw new Error(`the database did not open: ${opened.fault.code}`);
  const bench = createBench({
    openPads: () => ({
      pads: createPadsDriver({
        transport: air.transport,
        scheduler,
        random: createRandom(options.seed).uniform,
      }),
      practice: null,
    }),
    descriptions: padDescriptions,
    paper: createPapers(FONT_FOLDER),
    ballast: ballastPort,
    guests: testGuests({ scheduler, newId, wallClock }),
    store: opened.store,
    copies: null,
    machine: 'test',
    scheduler,
    wallClock,
    newId,
    source: 'bluetooth',
    restarted: false,
  });
  const screen = joinBench(bench);

  say('scan and connect');
  await waitFor(
    screen,
    'four pads and the spare live',
    30_000,
    ({ state }) => state.pads.filter((pad) => pad.phase === 'live').length === rig.devices.length,
  );
  for (const corner of CORNERS)
    await screen.command({ do: 'assign pad', serial: rig.practice.pads[corner], corner });

  say('zero, the car raised');
  await stillness(screen);
  await screen.command({ do: 'zero' });

  say('lower, settle, capture');
  rig.practice.lower();
  await waitFor(screen, 'the car down', 30_000, () => rig.practice.state().car === 'on the pads');
  await stillness(screen);
  const before = await capture(screen, 'as lowered');

  say('up one turn on the right front, settle, capture');
  rig.practice.turn('RF', 1);
  await waitFor(screen, 'the load to move', 10_000, ({ frame }) => frame?.stillness !== 'settled');
  await stillness(screen);
  const after = await capture(screen, 'right front up one turn');

  say('raise, zero check');
  rig.practice.raise();
  await waitFor(screen, 'the car up', 30_000, () => rig.practice.state().car === 'raised');
  await stillness(screen);
  await screen.command({ do: 'check zero' });

  const losses = screen.state.pads.map(({ serial, received, missing }) => ({
    serial,
    received,
    missing,
  }));
  const outing = screen.state.outing.id;
  screen.leave();
  await bench.stop();
  rig.stop();
  air.close();
  opened.store.close();

  // What counts is what a new start finds.
  const again = openStore({ dir, wallClock, newId, now: scheduler.now });
  if (!again.ok) throw new Error(`the database did not open again: ${again.fault.code}`);
  const kept = again.store.captures(outing);
  again.store.close();
  const zeroShift = kept[0]?.zeroShift ?? null;
  assert.deepStrictEqual(kept, [{ ...after, zeroShift }, before], 'what was stored');

  if (options.json) {
    const { seed, noise } = options;
    const printed = { seed, noise, captures: [before, after], zeroShift, losses };
    process.stdout.write(`${JSON.stringify(printed)}\n`);
    return;
  }
  say(`\n${captureTable(before)}\n\n${captureTable(after)}\n\n${changeTable(before, after)}`);
  say(`\n${zeroShiftLine(zeroShift)}`);
  for (const { serial, received, missing } of losses)
    say(`${serial}: ${received} samples received, ${missing} missing`);
  say('both captures found whole in the database after it was opened again');
};

const dir = mkdtempSync(path.join(tmpdir(), 'millpond-rehearsal-'));
let failed = false;
try {
  await rehearse(dir);
} catch (error) {
  failed = true;
  process.stderr.write(`the rehearsal failed: ${(error as Error).message}\n`);
}
rmSync(dir, { recursive: true, force: true });
process.exit(failed ? 1 : 0);
