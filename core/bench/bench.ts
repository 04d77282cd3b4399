import { normalGravity } from '../calibration/gravity.ts';
import type { BenchState, Frame } from '../contract/events.ts';
import type { Push } from '../contract/messages.ts';
import type { PerCorner } from '../corners.ts';
import { fault, type Fault } from '../faults.ts';
import type { Scheduler } from '../scheduler.ts';
import { second } from '../units.ts';
import { createBackingUp } from './backingUp.ts';
import type { BackupPort } from './backupPort.ts';
import { createBallastPlanning } from './ballastPlanning.ts';
import { benchState } from './benchState.ts';
import { createCallUnderWay } from './callUnderWay.ts';
import { createCalibrating } from './calibrating.ts';
import { capturesById } from './capturesById.ts';
import { createCarryOut, zero } from './commands.ts';
import { createEarlyWatch } from './earlyWatch.ts';
import { liveFrame } from './frame.ts';
import { createIntake } from './intake.ts';
import { createKeptBook } from './keptBook.ts';
import { createMemory } from './memory.ts';
import { measureFour, type FourMeasured } from './measureFour.ts';
import { createOpenedPads } from './openedPads.ts';
import { createPadCalibrations } from './padCalibrations.ts';
import { massSets } from './padCommands.ts';
import type { PadFeed } from './padFeed.ts';
import { createPadWatch } from './padWatch.ts';
import type {
  BallastPort,
  GuestPort,
  OpenPads,
  PadDescriptionPort,
  PadSource,
  PaperPort,
} from './ports.ts';
import { notReadyToCapture } from './readiness.ts';
import { createRecorder } from './recorder.ts';
import { createScreens, type FrameCursors } from './screens.ts';
import { createSeasonRecords } from './seasonRecords.ts';
import { createShowGuests } from './showGuests.ts';
import { createSleepWatch } from './sleepWatch.ts';
import { createStillness, type StillnessNow } from './stillness.ts';
import type { StorePort } from './storePort.ts';
import type { BenchWorkings } from './workings.ts';

/**
 * The running application: readings come in from the pads, commands from the screens; frames, state
 * and records go out. It opens nothing, reads no clock and makes no ids by itself.
 */
export interface BenchPorts {
  readonly openPads: OpenPads;
  readonly descriptions: PadDescriptionPort;
  readonly paper: PaperPort;
  readonly ballast: BallastPort;
  readonly guests: GuestPort;
  readonly store: StorePort;
  /** Null where the records could not be opened. */
  readonly copies: BackupPort | null;
  /** The name of this computer. */
  readonly machine: string;
  readonly scheduler: Scheduler;
  /** Wall-clock label, milliseconds since 1970 UTC. */
  readonly wallClock: () => number;
  /** A new UUIDv7. */
  readonly newId: () => string;
  /** Source of pads to open at once, instead of the one used last; null leaves that one. */
  readonly source: PadSource | null;
  /** True when this process replaces one that stopped: said as a fault, once. */
  readonly restarted: boolean;
}

/** One screen that is joined to the bench. */
export interface Joined {
  /** Takes one request as JSON text; what does not parse is refused and reported to `refused`. */
  receive(text: string): void;
  leave(): void;
}

export interface Bench {
  /** Joins a screen: `send` is given pushes as JSON text. */
  join(send: (text: string) => void, refused?: (why: string) => void): Joined;
  /** Stops the pads and every timer; settles when all is shut. */
  stop(): Promise<void>;
}

/** Frames are offered this often; one screen gets the next only when it has taken the last. */
const FRAME_PERIOD = second(1 / 60);
/** Guests are offered a view this often; the goal is that a phone draws 95 % of samples within 0.1 s. */
const GUEST_PERIOD = second(1 / 30);
/** A state goes out this often at most. */
const STATE_PERIOD = second(0.1);
/** Statistics of pads change all the time: they alone bring a state this seldom. */
const STATISTICS_PERIOD = second(1);
/** How often a moving car is asked where it will settle. */
const EARLY_PERIOD = second(0.1);
const RECORD_PERIOD = second(1);
/** How often another part of the season is read, until all is there. */
const READ_AHEAD_PERIOD = second(0.25);
const FAULTS_KEPT = 50;

/** What has changed since the screens were last told. */
interface News {
  state: boolean;
  statistics: boolean;
}

/** Makes and starts the bench. */
export const createBench = (ports: BenchPorts): Bench => {
  const { scheduler, store, guests } = ports;
  const news: News = { state: false, statistics: false };
  let faults: readonly Fault[] = [];
  let storeFaultsNoted = 0;
  const note = (happened: Fault): void => {
    faults = [happened, ...faults].slice(0, FAULTS_KEPT);
    news.state = true;
  };

  /** What the store met while it was opened or read, as it meets it. */
  const noteStoreFaults = (): void => {
    for (const met of store.faults.slice(storeFaultsNoted)) note(met);
    storeFaultsNoted = store.faults.length;
  };

  const memory = createMemory({ ...ports, report: note });
  const book = createKeptBook({ ...ports, isPractice: () => memory.outing.practice });
  const calibrations = createPadCalibrations(store, book);
  const calibrating = createCalibrating(book);
  const ballast = createBallastPlanning({
    port: ports.ballast,
    newId: ports.newId,
    isPractice: () => memory.outing.practice,
    changed: () => void (news.state = true),
  });
  const backingUp = createBackingUp({
    port: ports.copies,
    scheduler,
    machine: ports.machine,
    folder: () => memory.settings.copyFolder,
    note,
    changed: () => void (news.state = true),
  });
  const carryOut = createCarryOut(ports);
  const recorder = createRecorder(ports.wallClock);
  const stillness = createStillness();
  const watch = createPadWatch();
  const early = createEarlyWatch();
  const intake = createIntake({
    memory,
    stillness,
    early,
    watch,
    calibrations,
    recorder,
    now: () => scheduler.now(),
    note,
    changed: (what) => void (news[what] = true),
  });

  const sleepWatch = createSleepWatch({ now: () => scheduler.now(), wallClock: ports.wallClock });
  const lookForSleep = (): void => {
    const seconds = sleepWatch();
    if (seconds > 0) intake.slept(seconds);
  };

  const gravity = (): number => memory.venue.measuredGravity ?? normalGravity(memory.venue);
  const allUnder = (): PerCorner<PadFeed> | null => {
    const { LF, RF, LR, RR } = intake.under();
    return LF && RF && LR && RR ? { LF, RF, LR, RR } : null;
  };
  const still = (): StillnessNow => stillness.now(intake.under(), scheduler.now());

  // The settled window moves on ten times a second, frames are made sixty times: measured once each.
  let lastFour: { readonly to: number; readonly four: FourMeasured | null } | null = null;
  const fourNow = (window: StillnessNow['window']): FourMeasured | null => {
    const feeds = allUnder();
    if (!window || !feeds) return (lastFour = null);
    if (lastFour?.to !== window.to) {
      const outcome = measureFour(feeds, window);
      lastFour = { to: window.to, four: outcome.ok ? outcome.four : null };
    }
    return lastFour.four;
  };

  const opened = createOpenedPads({ openPads: ports.openPads, memory, book, gravity, intake });

  const openCaptures = capturesById(store, book);
  const season = createSeasonRecords({ book, memory, capturesById: openCaptures });

  const workings: BenchWorkings = {
    memory,
    get practice() {
      return opened.practice;
    },
    now: () => scheduler.now(),
    wallClock: ports.wallClock,
    newId: ports.newId,
    book,
    season,
    calibrations,
    calibrating,
    ballast,
    backingUp,
    watch,
    referenceZero: new Map(),
    gravity,
    feeds: () => intake.feeds,
    feedOf: (serial) => intake.feeds.get(serial) ?? null,
    ratingOf: (serial) => intake.feeds.get(serial)?.status?.rating ?? null,
    zerosOf: (serial) => store.zerosOf(serial),
    pads: () => opened.pads,
    under: intake.under,
    allUnder,
    stillness: still,
    early: early.now,
    openPads: opened.switchTo,
    startAnew: intake.startAnew,
    askForPress: intake.askForPress,
    capturesById: openCaptures,
    state: () => stateNow(),
    openCapture: (id) => store.openCapture(id),
  };

  const stateNow = (): BenchState =>
    benchState({
      t: scheduler.now(),
      memory,
      open: opened.isOpen,
      radio: intake.radio,
      pads: intake.statuses,
      feeds: intake.feeds,
      practice: opened.practice,
      gravity: gravity(),
      askingForPress: intake.askingForPress,
      faults,
      wallAt: ports.wallClock(),
      book,
      calibrations,
      calibrating,
      ballast,
      guests: guests.state(),
      copies: backingUp.shown(),
      massSets: massSets({ book, memory }),
      watched: watch.serial,
    });
  const statePush = (): Push => ({ kind: 'state', state: stateNow() });

  const frame = (cursors: FrameCursors, no: number): Frame => {
    const t = scheduler.now();
    const under = intake.under();
    const now = stillness.now(under, t);
    return liveFrame(
      {
        t,
        under,
        car: memory.car,
        cross: memory.settings.cross,
        gravity: gravity(),
        stillness: now,
        four: fourNow(now.window),
        notReady: notReadyToCapture(under, now, t)?.why ?? null,
        early: now.all === 'moving' || now.all === 'calming' ? early.now() : null,
        watch,
        watched: watch.serial === null ? null : (intake.feeds.get(watch.serial) ?? null),
      },
      cursors,
      no,
    );
  };

  const screens = createScreens({
    state: statePush,
    carryOut: async (command) => {
      lookForSleep();
      const answer = await carryOut(workings, command);
      news.state = true;
      return answer;
    },
    frame,
  });

  const currentCall = createCallUnderWay({ book, memory });
  const showGuests = createShowGuests({ guests, memory, frame, currentCall });

  const tellState = (): void => {
    news.state = false;
    news.statistics = false;
    screens.tellAll(statePush());
  };
  const record = (): void => {
    const chunks = recorder.cut();
    if (chunks.length === 0) return;
    const outcome = store.record(chunks);
    if (!outcome.ok) note(outcome.fault);
  };
  const practiseOpening = (): void => {
    opened.opening?.tick({
      allSettled: still().all === 'settled',
      zero: () => zero(workings).ok,
    });
  };

  const leaveGuests = guests.onChange(() => void (news.state = true));

  const timers = [
    scheduler.every('bench frames', FRAME_PERIOD, () => {
      lookForSleep();
      screens.sendFrames();
    }),
    scheduler.every('guest view', GUEST_PERIOD, () => {
      lookForSleep();
      showGuests();
    }),
    scheduler.every('bench state', STATE_PERIOD, () => {
      practiseOpening();
      noteStoreFaults();
      if (news.state) tellState();
    }),
    scheduler.every('bench statistics', STATISTICS_PERIOD, () => {
      if (news.statistics) tellState();
    }),
    scheduler.every('bench early', EARLY_PERIOD, () => {
      // A car at rest is measured; one that stands on no four live pads says nothing.
      if (still().all === 'moving' || still().all === 'calming') early.look();
    }),
    scheduler.every('flight recorder', RECORD_PERIOD, record),
    scheduler.every('season read ahead', READ_AHEAD_PERIOD, season.readAhead),
  ];

  noteStoreFaults();
  if (ports.restarted) note(fault('bench-restarted', scheduler.now()));
  const source = ports.source ?? memory.source;
  if (source) void carryOut(workings, { do: 'choose pads', source });

  return {
    join: screens.join,
    stop: async () => {
      for (const cancel of timers) cancel();
      const copied = backingUp.stop();
      leaveGuests();
      await guests.close();
      await ballast.cancel();
      await opened.close();
      record();
      await copied;
    },
  };
};
