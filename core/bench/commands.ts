import { toForce } from '../calibration/calibration.ts';
import type { Command } from '../contract/commands.ts';
import { CORNERS, perCorner, type PerCorner } from '../corners.ts';
import { DONE, refuse, stored, type Handlers } from './answering.ts';
import { BACKUP_HANDLERS } from './backupCommands.ts';
import { BALLAST_HANDLERS } from './ballastCommands.ts';
import { CALIBRATION_HANDLERS } from './calibrationCommands.ts';
import { guestHandlers } from './guestCommands.ts';
import { KEPT_HANDLERS } from './keptCommands.ts';
import { measureFour, type FourMeasured } from './measureFour.ts';
import { keepZeroTaken, padHandlers } from './padCommands.ts';
import type { PadFeed } from './padFeed.ts';
import type { GuestPort, PadDescriptionPort, PaperPort } from './ports.ts';
import { printHandlers } from './printCommands.ts';
import { PRACTICE_HANDLERS } from './practiceCommands.ts';
import {
  NOTHING_THERE,
  notReadyToCapture,
  notReadyToCaptureEarly,
  notReadyToZero,
} from './readiness.ts';
import { RESULT_HANDLERS } from './resultCommands.ts';
import { SEASON_HANDLERS } from './seasonCommands.ts';
import { standingHandlers } from './standingCommands.ts';
import type { Answer } from './screens.ts';
import { takeCapture } from './takeCapture.ts';
import type { BenchWorkings } from './workings.ts';
import { takeZeros } from './zeroing.ts';

/** What each command does. Every path gives an answer: done, or refused with what to do next. */

/** Takes the zeros of the four assigned pads. */
export const zero = (bench: BenchWorkings): Answer => {
  const under = bench.under();
  const still = bench.stillness();
  const notReady = notReadyToZero(under, still, bench.now());
  const pads = bench.allUnder();
  if (notReady) return { ok: false, refusal: notReady };
  if (!pads || !still.window) return refuse('The pads are not still.', 'Wait a moment.');
  const taken = takeZeros(pads, still.window, {
    takenAt: bench.wallClock(),
    newId: bench.newId,
  });
  if (!taken.ok) return taken;
  const outcome = bench.memory.addZeros(CORNERS.map((corner) => taken.zeros[corner]));
  if (!outcome.ok) return stored(outcome);
  for (const corner of CORNERS) keepZeroTaken(bench, pads[corner], taken.zeros[corner]);
  bench.startAnew();
  return DONE;
};

/** The four corners as they are captured: at rest, or where a moving car is going to settle. */
const fourToCapture = (
  bench: BenchWorkings,
  isEarly: boolean,
):
  | { readonly pads: PerCorner<PadFeed>; readonly four: FourMeasured }
  | { readonly refused: Answer } => {
  const still = bench.stillness();
  const under = bench.under();
  const notReady = isEarly
    ? notReadyToCaptureEarly(under, bench.now())
    : notReadyToCapture(under, still, bench.now());
  if (notReady) return { refused: { ok: false, refusal: notReady } };
  const pads = bench.allUnder();
  const early = isEarly ? bench.early() : null;
  const window = isEarly ? early : still.window;
  if (!pads || !window)
    return {
      refused: isEarly
        ? refuse('Nothing can be said yet of where it will settle.', 'Wait a moment.')
        : refuse('The car is not still.', 'Wait a moment.'),
    };
  const outcome = measureFour(pads, window);
  if (!outcome.ok)
    return {
      refused: refuse(
        'A hole in the samples is longer than 0.2 s.',
        'Wait a moment and capture again; see the losses on the Pads screen.',
        outcome.corner,
      ),
    };
  const { four } = outcome;
  return {
    pads,
    four: early ? { ...four, forces: early.corners, covariance: early.covariance } : four,
  };
};

const capture = (bench: BenchWorkings, command: Command & { do: 'capture' }): Answer => {
  const isEarly = command.isEarly ?? false;
  const taken = fourToCapture(bench, isEarly);
  if ('refused' in taken) return taken.refused;
  const made = takeCapture(taken.four, taken.pads, {
    memory: bench.memory,
    gravity: bench.gravity(),
    isEarly,
    labels: {
      id: bench.newId(),
      takenAt: bench.wallClock(),
      phase: command.phase,
      note: command.note,
    },
  });
  if (!made) return { ok: false, refusal: NOTHING_THERE };
  const kept = bench.memory.addCapture(made, taken.four.raw);
  if (!kept.ok) return stored(kept);
  return { ok: true, result: { is: 'captured', capture: made } };
};

const checkZero = (bench: BenchWorkings): Answer => {
  const last = bench.memory.captures.find((each) => !each.setAside);
  if (!last) return refuse('There is no capture whose zero could be checked.', 'Capture first.');
  const still = bench.stillness();
  const notReady = notReadyToCapture(bench.under(), still, bench.now());
  const pads = bench.allUnder();
  if (notReady) return { ok: false, refusal: notReady };
  if (!pads || !still.window) return refuse('The pads are not still.', 'Wait a moment.');
  const taken = takeZeros(pads, still.window, { takenAt: bench.wallClock(), newId: bench.newId });
  if (!taken.ok) return taken;
  return stored(
    bench.memory.noteZeroShift(
      last.id,
      perCorner((corner) => {
        const { padSerial, zeroCounts } = last.corners[corner];
        const { serial, calibration } = pads[corner];
        // Another pad than the captured one says nothing about that one's zero.
        if (serial !== padSerial || calibration === null || zeroCounts === null) return null;
        return toForce(calibration, zeroCounts, taken.zeros[corner].counts) / last.gravity;
      }),
    ),
  );
};

type BenchCommand = Exclude<
  Command['do'],
  | keyof typeof CALIBRATION_HANDLERS
  | keyof typeof KEPT_HANDLERS
  | keyof typeof BALLAST_HANDLERS
  | keyof typeof BACKUP_HANDLERS
  | keyof typeof RESULT_HANDLERS
  | keyof typeof PRACTICE_HANDLERS
  | keyof typeof SEASON_HANDLERS
  | keyof ReturnType<typeof standingHandlers>
  | keyof ReturnType<typeof padHandlers>
  | keyof ReturnType<typeof printHandlers>
  | keyof ReturnType<typeof guestHandlers>
>;

const BENCH_HANDLERS: Handlers<BenchCommand> = {
  'choose pads': async (bench, { source }) => {
    const outcome = bench.memory.chooseSource(source);
    if (outcome.ok) await bench.openPads(source);
    return stored(outcome);
  },
  'assign pad': (bench, { serial, corner }) => {
    const outcome = bench.memory.assign(serial, corner);
    bench.startAnew();
    return stored(outcome);
  },
  'ask for press': (bench, { corner }) => {
    bench.askForPress(corner);
    return DONE;
  },
  'identify pad': async (bench, { serial }) => stored(await bench.pads().identify(serial)),
  'set rate': async (bench, { serial, rate }) => stored(await bench.pads().setRate(serial, rate)),
  zero,
  capture,
  'check zero': checkZero,
  'open capture': (bench, { id }) => {
    const found = bench.openCapture(id);
    return found
      ? { ok: true, result: { is: 'capture opened', ...found } }
      : refuse('This capture is not in the database.', 'Choose one from the list.');
  },
  'set aside': ({ memory }, { id, aside }) => stored(memory.setAside(id, aside)),
  'change settings': ({ memory }, { settings }) => stored(memory.changeSettings(settings)),
  'set car state': ({ memory }, { state }) => stored(memory.setCarState(state)),
  'agree car state': ({ memory }, { state }) => stored(memory.agreeCarState(state)),
  'use car': ({ memory }, { car }) => stored(memory.useCar(car)),
  'use venue': (bench, { venue }) => {
    const outcome = bench.memory.useVenue(venue);
    bench.practice?.standAt(bench.gravity());
    return stored(outcome);
  },
  'begin outing': ({ memory }, { name }) => stored(memory.beginOuting(name)),
};

/** Carries out commands. */
export type CarryOut = (bench: BenchWorkings, command: Command) => Promise<Answer>;

/** All commands with what they do, each kept with its subject. */
export const createCarryOut = (ports: {
  readonly descriptions: PadDescriptionPort;
  readonly paper: PaperPort;
  readonly guests: GuestPort;
}): CarryOut => {
  const handlers: Handlers<Command['do']> = {
    ...BENCH_HANDLERS,
    ...CALIBRATION_HANDLERS,
    ...KEPT_HANDLERS,
    ...BALLAST_HANDLERS,
    ...BACKUP_HANDLERS,
    ...RESULT_HANDLERS,
    ...PRACTICE_HANDLERS,
    ...SEASON_HANDLERS,
    ...standingHandlers(),
    ...padHandlers(ports.descriptions),
    ...printHandlers(ports.paper),
    ...guestHandlers(ports.guests),
  };
  return async (bench, command) =>
    // Each handler takes the command it is filed under, which the table's type ensures.
    (handlers[command.do] as (bench: BenchWorkings, command: Command) => Answer | Promise<Answer>)(
      bench,
      command,
    );
};
