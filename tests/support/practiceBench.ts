import { createBench, type Bench } from '../../core/bench/bench.ts';
import type { BackupPort } from '../../core/bench/backupPort.ts';
import type { BallastPort, PadSource, PadsPort, PracticePort } from '../../core/bench/ports.ts';
import { createDrivenScheduler, type DrivenScheduler } from '../../core/scheduler.ts';
import { second } from '../../core/units.ts';
import { createPadsDriver } from '../../drivers/pads/padsDriver.ts';
import { padDescriptions } from '../../drivers/pads/protocol/description/descriptionPort.ts';
import { createRandom } from '../../drivers/pads/rig/random.ts';
import { createRig, type Rig, type RigOptions } from '../../drivers/pads/rig/rig.ts';
import { createRigTransport } from '../../drivers/pads/transport/rig.ts';
import { createPapers } from '../../electron/papers.ts';
import { FONT_FOLDER } from './fontFolder.ts';
import { ballastPort } from '../../drivers/solver/ballastPort.ts';
import { openStore } from '../../drivers/store/open.ts';
import { testGuests } from './testGuests.ts';
import { joinBench, type BenchScreen } from './benchScreen.ts';

/**
 * The whole of Millpond on a clock that stands still until it is moved: practice rig, its bytes, the
 * device layer, the bench and the real database in a folder. Nothing is faked but time.
 */
export interface PracticeBench {
  readonly scheduler: DrivenScheduler;
  readonly bench: Bench;
  readonly rig: Rig;
  readonly screen: BenchScreen;
  /** Moves time on in steps of 10 ms, letting every promise settle in between. */
  run(seconds: number): Promise<void>;
  /** Runs until the predicate holds; throws after so many seconds of bench time. */
  runUntil(predicate: () => boolean, deadlineSeconds: number): Promise<void>;
  /** Settles a promise that needs time to pass. */
  settle<T>(promise: Promise<T>): Promise<T>;
  stop(): Promise<void>;
}

const STEP = second(0.01);

const letPromisesSettle = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

/** Starts it, the car raised; `source` 'rig' runs the opening by itself, 'bluetooth' leaves all to the test. */
export const startPracticeBench = (options: {
  readonly dir: string;
  readonly source: PadSource;
  readonly rig?: Partial<RigOptions>;
  readonly restarted?: boolean;
  /** Instead of the solver in its worker, which takes real time. */
  readonly ballast?: BallastPort;
  /** Copies of the records, where a test makes any. */
  readonly copies?: BackupPort;
  /** The built page for guests, where a test opens it. */
  readonly guestFolder?: string;
}): PracticeBench => {
  const scheduler = createDrivenScheduler();
  const rig = createRig({ scheduler, seed: 1, noise: 'normal', ...options.rig });
  let wall = Date.UTC(2026, 5, 1, 9);
  scheduler.every('wall clock', STEP, () => void (wall += 10));
  let ids = 0;
  const newId = (): string =>
    `0190a0c0-0001-7000-8000-${String((ids += 1) + Math.round(wall % 1e9)).padStart(12, '0')}`;
  const opened = openStore({ dir: options.dir, wallClock: () => wall, newId, now: scheduler.now });
  if (!opened.ok) throw new Error(`store: ${opened.fault.code}`);
  const openPads = (
    source: PadSource,
  ): { readonly pads: PadsPort; readonly practice: PracticePort | null } => ({
    pads: createPadsDriver({
      transport: createRigTransport(rig.devices, scheduler),
      scheduler,
      random: createRandom(7).uniform,
    }),
    practice: source === 'rig' ? rig.practice : null,
  });
  const bench = createBench({
    openPads,
    descriptions: padDescriptions,
    paper: createPapers(FONT_FOLDER),
    ballast: options.ballast ?? ballastPort,
    guests: testGuests({
      scheduler,
      newId,
      wallClock: () => wall,
      folder: options.guestFolder,
    }),
    store: opened.store,
    copies: options.copies ?? null,
    machine: 'test',
    scheduler,
    wallClock: () => wall,
    newId,
    source: options.source,
    restarted: options.restarted ?? false,
  });
  const screen = joinBench(bench);

  const run = async (seconds: number): Promise<void> => {
    for (let step = 0; step < Math.round(seconds / STEP); step += 1) {
      scheduler.advance(STEP);
      await letPromisesSettle();
    }
  };
  return {
    scheduler,
    bench,
    rig,
    screen,
    run,
    runUntil: async (predicate, deadlineSeconds) => {
      const deadline = scheduler.now() + deadlineSeconds;
      while (!predicate()) {
        if (scheduler.now() > deadline)
          throw new Error(`not within ${deadlineSeconds} s: ${screen.frame?.notReady ?? ''}`);
        await run(0.05);
      }
    },
    settle: async (promise) => {
      let done = false;
      const watched = promise.finally(() => (done = true));
      watched.catch(() => {});
      while (!done) await run(0.02);
      return watched;
    },
    stop: async () => {
      screen.leave();
      let done = false;
      const stopping = bench.stop().finally(() => (done = true));
      while (!done) await run(0.02);
      await stopping;
      rig.stop();
      opened.store.close();
    },
  };
};
