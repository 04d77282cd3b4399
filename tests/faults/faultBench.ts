import { createBench } from '../../core/bench/bench.ts';
import type { Capture } from '../../core/contract/records.ts';
import type { PadShown } from '../../core/contract/events.ts';
import { CORNERS, type Corner } from '../../core/corners.ts';
import { second, type Second } from '../../core/units.ts';
import { createPadsDriver } from '../../drivers/pads/padsDriver.ts';
import type { SoftDevice } from '../../drivers/pads/ports.ts';
import { padDescriptions } from '../../drivers/pads/protocol/description/descriptionPort.ts';
import { createRandom } from '../../drivers/pads/rig/random.ts';
import { createRig, type Rig } from '../../drivers/pads/rig/rig.ts';
import { createRigTransport } from '../../drivers/pads/transport/rig.ts';
import { openStore, type OpenedStore, type StoreOptions } from '../../drivers/store/open.ts';
import { ballastPort } from '../../drivers/solver/ballastPort.ts';
import { createPapers } from '../../electron/papers.ts';
import { joinBench, RefusedError, type BenchScreen } from '../support/benchScreen.ts';
import { FONT_FOLDER } from '../support/fontFolder.ts';
import { testGuests } from '../support/testGuests.ts';
import { breakable } from './breakableTransport.ts';
import type { Observed } from './fault.ts';
import { createLiveWatch } from './liveWatch.ts';
import { recordsFound } from './recordsFound.ts';
import { createSeenWords } from './seenWords.ts';
import { createSleepingClock } from './sleepingClock.ts';

/**
 * The whole of Millpond on a driven clock, a car on quiet pads: the rig's bytes, the device layer,
 * the bench and the real database. Faults are brought about from outside; what comes of them is read
 * off the contract and out of the database as a new start finds it.
 */
export interface FaultBench {
  readonly rig: Rig;
  readonly screen: BenchScreen;
  readonly radio: ReturnType<typeof breakable>;
  /** The host's monotonic clock. */
  now(): Second;
  run(seconds: number): Promise<void>;
  /** Runs until it holds; throws after a minute. */
  until(what: string, holds: () => boolean): Promise<void>;
  settled(): Promise<void>;
  /** The pad of a corner as the Pads screen shows it. */
  pad(corner: Corner): PadShown | undefined;
  /** The computer sleeps; its monotonic clock counts that (Windows) or stands still (Linux). */
  sleep(seconds: number, clock: 'counts' | 'stands still'): void;
  setWallClock(bySeconds: number): void;
  /** The fault begins: seen, counted and judged from here. */
  begin(): void;
  /** Captures; the words of the refusal where it is refused. */
  capture(): Promise<string | null>;
  /**
   * Stops all, opens the database anew and says what was observed. `others` must have gone on: all
   * that are not at fault unless said.
   */
  finish(about: {
    readonly atFault: readonly Corner[];
    readonly others?: readonly Corner[];
  }): Promise<Observed>;
}

export interface FaultBenchOptions {
  readonly dir: string;
  readonly seed?: number;
  /** In place of a pad's device, by key; what is added comes after. */
  readonly devices?: (devices: readonly SoftDevice[]) => readonly SoftDevice[];
  readonly open?: (options: StoreOptions) => OpenedStore;
  /** Called once when the bench has started, before anything is assigned. */
  readonly started?: (screen: BenchScreen) => void;
}

const STEP = 0.01;
const WALL_START = Date.UTC(2026, 5, 1, 9);
const DEADLINE = 60;

const promisesSettle = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

/** Starts it and brings the car onto four zeroed pads, settled. */
export const standOnPads = async (options: FaultBenchOptions): Promise<FaultBench> => {
  const clock = createSleepingClock();
  let standingStill = 0;
  let wallSetBy = 0;
  /** True time, which no sleep stops. */
  const trueTime = (): number => clock.now() + standingStill;
  const wallClock = (): number => WALL_START + Math.round(1000 * (trueTime() + wallSetBy));
  const rig = createRig({
    scheduler: { ...clock, now: () => second(trueTime()) },
    seed: options.seed ?? 1,
    noise: 'quiet',
    friction: 0,
  });
  const cornerOf = new Map(CORNERS.map((corner) => [rig.practice.pads[corner], corner]));
  const live = createLiveWatch();
  const radio = breakable(
    createRigTransport(options.devices?.(rig.devices) ?? rig.devices, clock),
    {
      scheduler: clock,
      heard: (key) => {
        const corner = cornerOf.get(key.split(':')[1] ?? '');
        if (corner) live.heard(corner, trueTime());
      },
    },
  );
  let ids = 0;
  const newId = (): string =>
    `0190a0c0-0002-7000-8000-${(ids += 1).toString(16).padStart(12, '0')}`;
  const storeOptions: StoreOptions = { dir: options.dir, wallClock, newId, now: clock.now };
  const opened = (options.open ?? openStore)(storeOptions);
  if (!opened.ok) throw new Error(`the database did not open: ${opened.fault.code}`);
  const bench = createBench({
    openPads: () => ({
      pads: createPadsDriver({
        transport: radio,
        scheduler: clock,
        random: createRandom(7).uniform,
      }),
      practice: null,
    }),
    descriptions: padDescriptions,
    paper: createPapers(FONT_FOLDER),
    ballast: ballastPort,
    guests: testGuests({ scheduler: clock, newId, wallClock }),
    store: opened.store,
    copies: null,
    machine: 'test',
    scheduler: clock,
    wallClock,
    newId,
    source: 'bluetooth',
    restarted: false,
  });
  const words = createSeenWords((serial) => cornerOf.get(serial) ?? null);
  const screen = joinBench(bench, (frame) => {
    live.frame(frame, trueTime());
    words.notReady(frame.notReady);
  });
  options.started?.(screen);
  const acknowledged: Capture[] = [];
  const missingAt = new Map<Corner, number>();

  const run = async (seconds: number): Promise<void> => {
    for (let step = 0; step < Math.round(seconds / STEP); step += 1) {
      clock.advance(STEP);
      await promisesSettle();
      words.state(screen.state);
    }
  };
  const until = async (what: string, holds: () => boolean): Promise<void> => {
    const deadline = clock.now() + DEADLINE;
    while (!holds()) {
      if (clock.now() > deadline)
        throw new Error(`not within ${DEADLINE} s: ${what} (${screen.frame?.notReady ?? ''})`);
      await run(0.05);
    }
  };
  const settled = (): Promise<void> =>
    until('settled', () => screen.frame?.stillness === 'settled');
  const pad = (corner: Corner): PadShown | undefined =>
    screen.state.pads.find(
      ({ serial, phase }) => serial === rig.practice.pads[corner] && phase !== 'refused',
    );
  const capture = async (): Promise<string | null> => {
    try {
      const result = await screen.command({ do: 'capture', phase: 'set-up', note: '' });
      if (result.is === 'captured') acknowledged.push(result.capture);
      return null;
    } catch (error) {
      if (!(error instanceof RefusedError)) throw error;
      words.refused(error.refusal);
      return error.message;
    }
  };

  await until('four pads', () => CORNERS.every((corner) => pad(corner)?.phase === 'live'));
  for (const corner of CORNERS)
    await screen.command({ do: 'assign pad', serial: rig.practice.pads[corner], corner });
  await settled();
  await screen.command({ do: 'zero' });
  rig.practice.lower();
  await until('the car down', () => rig.practice.state().car === 'on the pads');
  await settled();

  const others = (rest: readonly Corner[]): Observed['others'] => {
    if (rest.length === 0) return null;
    const missing = rest.map(
      (corner) => (pad(corner)?.missing ?? NaN) - (missingAt.get(corner) ?? 0),
    );
    const lost = missing.reduce((sum, n) => sum + n, 0);
    const shares = rest.map(live.liveShare);
    const silence = Math.max(...rest.map(live.longestSilence));
    return {
      unbroken: lost === 0 && shares.every((share) => share === 1),
      figures: `${rest.length} live in ${(100 * Math.min(...shares)).toFixed(0)} % of frames, ${lost} samples missing, longest silence ${silence.toFixed(2)} s`,
    };
  };

  return {
    rig,
    screen,
    radio,
    now: clock.now,
    run,
    until,
    settled,
    pad,
    sleep: (seconds, hostClock) => {
      if (hostClock === 'counts') clock.sleep(seconds);
      else standingStill += seconds;
    },
    setWallClock: (bySeconds) => {
      wallSetBy += bySeconds;
    },
    begin: () => {
      live.begin();
      words.begin(screen.state);
      for (const corner of CORNERS) missingAt.set(corner, pad(corner)?.missing ?? 0);
    },
    capture,
    finish: async (about) => {
      const { atFault } = about;
      const rest = others(about.others ?? CORNERS.filter((corner) => !atFault.includes(corner)));
      const { seen, unnamed } = words.told(atFault, live.liveShare);
      const outing = screen.state.outing.id;
      screen.leave();
      let isStopped = false;
      const stopping = bench.stop().finally(() => (isStopped = true));
      while (!isStopped) await run(0.02);
      await stopping;
      rig.stop();
      opened.store.close();
      const found = recordsFound(storeOptions, { outing, acknowledged });
      return {
        seen,
        unnamed,
        others: rest,
        ...found,
        frames: live.frames,
        staleAsLive: live.staleAsLive,
      };
    },
  };
};

/** Captures as soon as all four are still; throws where it is refused. */
export const captureSettled = async (bench: FaultBench): Promise<void> => {
  await bench.settled();
  const refused = await bench.capture();
  if (refused !== null) throw new Error(`the capture was refused: ${refused}`);
};
