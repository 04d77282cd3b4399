import { perCorner } from '../corners.ts';
import type { Car } from '../sheet/car.ts';
import { itemsById, itemsOf } from '../sheet/items.ts';
import { DONE, refuse, type Handlers } from './answering.ts';
import type { PracticeGauge, PracticePort } from './ports.ts';
import type { Answer } from './screens.ts';
import type { BenchWorkings } from './workings.ts';

/** The hands on the practice rig. */

const NO_CAR = refuse('There is no practice car.', 'Choose the practice rig on the Pads screen.');

const practise = (bench: BenchWorkings, act: (hands: PracticePort) => void): Answer => {
  if (!bench.practice) return NO_CAR;
  act(bench.practice);
  return DONE;
};

const RAISE_FIRST = refuse(
  'The practice car stands on the pads.',
  'Raise it, then put masses on the pads.',
);

/** Where the practice car is read for an item of the sheet; null where it has no gauge for it. */
const gaugeFor = (car: Car, id: string): PracticeGauge | null => {
  const item = itemsById(itemsOf(car, [])).get(id);
  if (!item) return null;
  if ((item.kind === 'toe' || item.kind === 'camber') && item.corner)
    return { is: item.kind, corner: item.corner };
  const point = car.details?.heightPoints.find(({ id: part }) => part === item.part);
  return item.kind === 'height' && point
    ? { is: 'height', x: point.x, y: point.y, above: point.above }
    : null;
};

export const PRACTICE_HANDLERS: Handlers<
  | 'lower practice car'
  | 'raise practice car'
  | 'turn practice perch'
  | 'lean on practice car'
  | 'put practice masses'
  | 'press practice stack'
  | 'read practice staff'
  | 'send practice car out'
  | 'tell practice runs'
  | 'read practice gauge'
> = {
  'send practice car out': ({ practice }, { happens }) => {
    if (!practice) return NO_CAR;
    if (practice.state().car !== 'raised')
      return refuse('The practice car is not raised.', 'Raise it, then send it out.');
    return practice.sendOut(happens)
      ? DONE
      : refuse('There is not that much fuel left in the practice car.', 'Let it burn less.');
  },
  'tell practice runs': ({ practice }) => {
    if (!practice) return NO_CAR;
    const runs = practice.runs();
    return runs.length === 0
      ? refuse('The practice car has not been out.', 'Raise it and send it out.')
      : {
          ok: true,
          result: { is: 'practice runs', runs: runs.map((run) => [...run]) },
        };
  },
  'read practice gauge': ({ practice, memory }, { item }) => {
    if (!practice) return NO_CAR;
    if (practice.state().car !== 'on the pads')
      return refuse('The practice car does not stand on the pads.', 'Lower it, then read.');
    const gauge = gaugeFor(memory.car, item);
    return gauge
      ? { ok: true, result: { is: 'practice gauge read', item, value: practice.readGauge(gauge) } }
      : refuse(
          'The practice car has no gauge for this.',
          'It reads ride heights at the points of the car, toe and camber.',
        );
  },
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
