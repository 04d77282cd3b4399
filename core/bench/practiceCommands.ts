import { perCorner } from '../corners.ts';
import { DONE, refuse, type Handlers } from './answering.ts';
import type { PracticePort } from './ports.ts';
import type { Answer } from './screens.ts';
import type { BenchWorkings } from './workings.ts';

/** The hands on the practice rig. */

const practise = (bench: BenchWorkings, act: (hands: PracticePort) => void): Answer => {
  if (!bench.practice)
    return refuse('There is no practice car.', 'Choose the practice rig on the Pads screen.');
  act(bench.practice);
  return DONE;
};

const RAISE_FIRST = refuse(
  'The practice car stands on the pads.',
  'Raise it, then put masses on the pads.',
);

export const PRACTICE_HANDLERS: Handlers<
  | 'lower practice car'
  | 'raise practice car'
  | 'turn practice perch'
  | 'lean on practice car'
  | 'put practice masses'
  | 'press practice stack'
  | 'read practice staff'
> = {
  'lower practice car': (bench) => practise(bench, (hands) => hands.lower()),
  'raise practice car': (bench) => practise(bench, (hands) => hands.raise()),
  'turn practice perch': (bench, { corner, turns }) =>
    practise(bench, (hands) => hands.turn(corner, turns)),
  'lean on practice car': (bench, { on }) => practise(bench, (hands) => hands.lean(on)),
  'put practice masses': (bench, { padSerial, mass, place, distance }) =>
    bench.practice && bench.practice.state().car !== 'raised'
      ? RAISE_FIRST
      : practise(bench, (hands) => hands.putMasses(padSerial, { mass, place, distance })),
  'read practice staff': (bench, { points, sights }) => {
    const { practice } = bench;
    if (!practice) return refuse('There is no practice rig.', 'Choose it on the Pads screen.');
    return {
      ok: true,
      result: {
        is: 'staff read',
        readings: perCorner((corner) =>
          points.flatMap(({ x, y }) =>
            Array.from({ length: sights }, () => practice.readStaff(corner, x, y)),
          ),
        ),
      },
    };
  },
  'press practice stack': (bench, { stack }) =>
    bench.practice && bench.practice.state().car !== 'raised'
      ? RAISE_FIRST
      : practise(bench, (hands) => hands.pressStack(stack)),
};
