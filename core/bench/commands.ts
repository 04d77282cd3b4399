import { toForce } from '../calibration/calibration.ts';
import type { Command, Refusal } from '../contract/commands.ts';
import { CORNERS, perCorner } from '../corners.ts';
import { FAULTS, type Fault } from '../faults.ts';
import type { BenchWorkings } from './workings.ts';
import { measureFour } from './measureFour.ts';
import type { Outcome } from './ports.ts';
import { NOTHING_THERE, notReadyToCapture, notReadyToZero } from './readiness.ts';
import type { Answer } from './screens.ts';
import { takeCapture } from './takeCapture.ts';
import { takeZeros } from './zeroing.ts';

/** What each command does. Every path gives an answer: done, or refused with what to do next. */

const DONE: Answer = { ok: true, result: { is: 'done' } };

const refuse = (why: string, next: string, corner: Refusal['corner'] = null): Answer => ({
  ok: false,
  refusal: { why, next, corner },
});

const byFault = (fault: Fault): Answer =>
  refuse(FAULTS[fault.code].cause, FAULTS[fault.code].remedy);

const stored = (outcome: Outcome): Answer => (outcome.ok ? DONE : byFault(outcome.fault));

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
  if (!outcome.ok) return byFault(outcome.fault);
  bench.startAnew();
  return DONE;
};

const capture = (bench: BenchWorkings, command: Command & { do: 'capture' }): Answer => {
  const still = bench.stillness();
  const notReady = notReadyToCapture(bench.under(), still, bench.now());
  const pads = bench.allUnder();
  if (notReady) return { ok: false, refusal: notReady };
  if (!pads || !still.window) return refuse('The car is not still.', 'Wait a moment.');
  const outcome = measureFour(pads, still.window);
  if (!outcome.ok)
    return refuse(
      'A hole in the samples is longer than 0.2 s.',
      'Wait a moment and capture again; see the losses on the Pads screen.',
      outcome.corner,
    );
  const made = takeCapture(outcome.four, pads, {
    memory: bench.memory,
    gravity: bench.gravity(),
    labels: {
      id: bench.newId(),
      takenAt: bench.wallClock(),
      phase: command.phase,
      note: command.note,
    },
  });
  if (!made) return { ok: false, refusal: NOTHING_THERE };
  const kept = bench.memory.addCapture(made, outcome.four.raw);
  if (!kept.ok) return byFault(kept.fault);
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

const practise = (
  bench: BenchWorkings,
  act: (hands: NonNullable<BenchWorkings['practice']>) => void,
): Answer => {
  if (!bench.practice)
    return refuse('There is no practice car.', 'Choose the practice rig on the Pads screen.');
  act(bench.practice);
  return DONE;
};

/** Carries out one command. */
export const carryOut = async (bench: BenchWorkings, command: Command): Promise<Answer> => {
  const { memory } = bench;
  switch (command.do) {
    case 'choose pads': {
      const outcome = memory.chooseSource(command.source);
      if (outcome.ok) await bench.openPads(command.source);
      return stored(outcome);
    }
    case 'assign pad': {
      const outcome = memory.assign(command.serial, command.corner);
      bench.startAnew();
      return stored(outcome);
    }
    case 'ask for press':
      bench.askForPress(command.corner);
      return DONE;
    case 'identify pad':
      return stored(await bench.pads().identify(command.serial));
    case 'set rate':
      return stored(await bench.pads().setRate(command.serial, command.rate));
    case 'zero':
      return zero(bench);
    case 'capture':
      return capture(bench, command);
    case 'check zero':
      return checkZero(bench);
    case 'open capture': {
      const found = bench.openCapture(command.id);
      return found
        ? { ok: true, result: { is: 'capture opened', ...found } }
        : refuse('This capture is not in the database.', 'Choose one from the list.');
    }
    case 'set aside':
      return stored(memory.setAside(command.id, command.aside));
    case 'change settings':
      return stored(memory.changeSettings(command.settings));
    case 'set car state':
      return stored(memory.setCarState(command.state));
    case 'agree car state':
      return stored(memory.agreeCarState(command.state));
    case 'use car':
      return stored(memory.useCar(command.car));
    case 'use venue':
      return stored(memory.useVenue(command.venue));
    case 'begin outing':
      return stored(memory.beginOuting(command.name));
    case 'lower practice car':
      return practise(bench, (hands) => hands.lower());
    case 'raise practice car':
      return practise(bench, (hands) => hands.raise());
    case 'turn practice perch':
      return practise(bench, (hands) => hands.turn(command.corner, command.turns));
    case 'lean on practice car':
      return practise(bench, (hands) => hands.lean(command.on));
  }
};
