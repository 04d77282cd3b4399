import type { PracticePort } from '../../../core/bench/ports.ts';
import { CORNERS, perCorner, type PerCorner } from '../../../core/corners.ts';
import type { Scheduler } from '../../../core/scheduler.ts';
import { EXAMPLE_CAR, EXAMPLE_CAR_MASS, type Car } from '../../../core/sheet/car.ts';
import { second } from '../../../core/units.ts';
import type { SoftDevice } from '../ports.ts';
import type { CarMass } from './carBuild.ts';
import type { RigNoise } from './noiseLevels.ts';
import { createMassesOnPads } from './massesOnPads.ts';
import { createPracticeCar } from './practiceCar.ts';
import { createPracticeRuns } from './practiceRuns.ts';
import { createRandom } from './random.ts';
import { createRigPad } from './rigPad.ts';
import type { RigEvent, RigPadName, RigScript } from './rigScript.ts';

export { RIG_NOISE_LEVELS, type RigNoise } from './noiseLevels.ts';
export type { RigEvent, RigPadName, RigScript } from './rigScript.ts';

/**
 * The practice rig: a car, four pads under it and a spare beside it. It speaks the pads' own bytes
 * through `devices`, takes the crew's commands through `practice`, and does what its script says.
 * Seeded: the same options and the same calls at the same times give the same bytes. It keeps one
 * timer, by name 'practice rig', and reads no other clock.
 *
 * To script it, hand in `script` (see rigScript.ts), or call `practice`; to make a fault in a test,
 * call `happen`. To leave out what disturbs: noise 'quiet' loses nothing, friction 0 takes friction
 * and relaxing away, padHeights and seatsBefore of zero give the level car of the design.
 */
export interface Rig {
  readonly devices: readonly SoftDevice[];
  readonly practice: PracticePort;
  /** Makes one thing happen now, as the script would. */
  happen(event: RigEvent): void;
  /** What is so, which no pad says: for tests and demonstrations. */
  truth(): RigTruth;
  stop(): void;
}

export interface RigOptions {
  readonly scheduler: Scheduler;
  /** A whole number. */
  readonly seed: number;
  readonly noise: RigNoise;
  readonly car?: Car;
  readonly mass?: CarMass;
  readonly bars?: 'on' | 'off';
  /** Metre, up positive; by the seed, within 0.1 mm, where not given. */
  readonly padHeights?: PerCorner<number>;
  /** Seats at the wheel with all turns at zero, metre; a little cross weight where not given. */
  readonly seatsBefore?: PerCorner<number>;
  /** Friction of a strut at the wheel, N. */
  readonly friction?: number;
  /** m/s² */
  readonly gravity?: number;
  readonly script?: RigScript;
}

export interface RigTruth {
  /** Seconds since the rig began. */
  readonly t: number;
  /** Load on each pad, newton. */
  readonly loads: PerCorner<number>;
  /** How far the body stands above its reference over each wheel, metre. */
  readonly rise: PerCorner<number>;
  readonly seats: PerCorner<number>;
  readonly padHeights: PerCorner<number>;
  readonly gravity: number;
  readonly pads: readonly {
    readonly name: RigPadName;
    readonly serial: string;
    readonly spanError: number;
    readonly zero: number;
    readonly clockError: number;
    readonly blinks: boolean;
    readonly air: { passed: number; lost: number; duplicated: number; late: number };
  }[];
}

const TICK = 0.01;
/**
 * More than this is not made up after a pause: the pads went on, and it is lost like on a radio.
 */
const MOST_CATCH_UP = 0.25;
const PAD_HEIGHT_ERROR = 1e-4;
/** A laser's light over the pads, how a staff is read in it, and how the practice pads lean. */
const STAFF_LIGHT = 1.2;
const STAFF_SCATTER = 1e-4;
const PRACTICE_TILT = 2e-4;
/** The rig stands at Larkfell: normal gravity at 54.1° N, 210 m (WGS 84). */
const LARKFELL_GRAVITY = 9.813654;
/** About one turn at the right front too little: something to adjust. */
const SEATS_BEFORE: PerCorner<number> = { LF: 0.5e-3, RF: -0.5e-3, LR: -0.1e-3, RR: 0.4e-3 };
/** Friction of a well-kept strut at the wheel, N; common practice, no source. */
const FRICTION = 20;
/** Invented serial numbers, the same every day: a rig's pads are kept like others. */
const SERIALS: readonly (readonly [RigPadName, string])[] = [
  ['LF', 'MP-1041'],
  ['RF', 'MP-1042'],
  ['LR', 'MP-1043'],
  ['RR', 'MP-1044'],
  ['spare', 'MP-1047'],
];

/** Sets the rig up, the car raised, and lets it run. */
export const createRig = (options: RigOptions): Rig => {
  const { scheduler, seed } = options;
  const crew = createRandom(seed, 1);
  const gravity = options.gravity ?? LARKFELL_GRAVITY;
  const padHeights =
    options.padHeights ?? perCorner(() => crew.between(-PAD_HEIGHT_ERROR, PAD_HEIGHT_ERROR));
  const car = createPracticeCar({
    car: options.car ?? EXAMPLE_CAR,
    mass: options.mass ?? EXAMPLE_CAR_MASS,
    bars: options.bars ?? 'off',
    gravity,
    padHeights,
    seatsBefore: options.seatsBefore ?? SEATS_BEFORE,
    friction: options.friction ?? FRICTION,
    random: crew,
  });
  const { dynamics } = car;
  const runs = createPracticeRuns({
    car: options.car ?? EXAMPLE_CAR,
    dynamics,
    gravity,
    padHeights,
    moveSeat: car.moveSeat,
    // Its own chance, so that hands on gauges change nothing of the pads' day.
    random: createRandom(seed, 2),
  });

  const began = scheduler.now();
  /** Rig time: whole steps of the car, and what was slept through. The pads live in it too. */
  let steps = 0;
  let slept = 0;
  const carTime = (): number => slept + steps * dynamics.step;
  const pads = SERIALS.map(([name, serial], index) => ({
    name,
    pad: createRigPad({
      serial,
      noise: options.noise,
      random: createRandom(seed, 100 + index),
      now: carTime,
    }),
  }));
  const padOf = (name: RigPadName) => {
    const found = pads.find((one) => one.name === name);
    if (!found) throw new RangeError(`no pad ${name}`);
    return found.pad;
  };

  // What weighs on the pads goes with gravity. What perches shift between corners does not, and is
  // a thousandth of a thousandth of the load wrong by it.
  let here = gravity;
  const onPads = createMassesOnPads(
    pads.map(({ pad }) => pad.serial),
    { gravity: () => here, seed },
  );
  const before = new Float64Array(4);

  const happen = (event: RigEvent): void => {
    switch (event.do) {
      case 'lower':
        return car.lower();
      case 'raise':
        return car.raise();
      case 'turn':
        return car.turn(event.corner, event.turns);
      case 'lean':
        return car.lean(event.on);
      case 'fade':
        return padOf(event.pad).fade(carTime(), event.seconds);
      case 'air':
        return padOf(event.pad).air.change(event.chances);
      case 'charge':
        return padOf(event.pad).electronics.setBattery(event.percent);
      case 'restart':
        return padOf(event.pad).restart(carTime());
      case 'spike':
        return padOf(event.pad).electronics.spike(event.mass);
    }
  };
  const script = [...(options.script ?? [])].sort((a, b) => a.at - b.at);
  let done = 0;

  const advance = (): void => {
    const from = carTime();
    for (let entry = script[done]; entry && entry.at <= from; entry = script[done]) {
      done += 1;
      happen(entry);
    }
    before.set(dynamics.loads);
    car.advance();
    steps += 1;
    const to = carTime();
    for (let i = 0; i < pads.length; i += 1) {
      const pad = pads[i]?.pad;
      if (!pad) continue;
      for (let at = pad.nextAt(); at <= to; at = pad.nextAt()) {
        const share = Math.max(0, (at - from) / dynamics.step);
        const start = i < CORNERS.length ? (before[i] as number) : 0;
        const end = i < CORNERS.length ? (dynamics.loads[i] as number) : 0;
        pad.convert((start + share * (end - start)) * (here / gravity) + onPads.force(i));
      }
    }
  };

  const tick = (): void => {
    const target = scheduler.now() - began;
    const behind = target - carTime() - MOST_CATCH_UP;
    if (behind > 0) {
      slept += behind;
      for (const { pad } of pads) pad.sleepTo(carTime());
    }
    // Half a step of tolerance, so that rounding of the timer's time skips none.
    while (carTime() + dynamics.step / 2 <= target) advance();
  };
  const stop = scheduler.every('practice rig', second(TICK), tick);

  return {
    devices: pads.map(({ pad }) => pad.device),
    practice: {
      pads: perCorner((corner) => padOf(corner).serial),
      lower: car.lower,
      raise: car.raise,
      turn: car.turn,
      lean: car.lean,
      ...runs,
      readStaff: (corner, x, y) =>
        // The light stands 1.2 m up; the practice pads lean a little.
        Math.round(
          (STAFF_LIGHT -
            padHeights[corner] -
            PRACTICE_TILT * (x + y) +
            STAFF_SCATTER * crew.normal()) *
            1e5,
        ) / 1e5,
      standAt: (g) => {
        here = g;
      },
      putMasses: onPads.put,
      pressStack: onPads.press,
      state: () => ({ ...car.state(), ...onPads.state(), runs: runs.runs().length }),
    },
    happen,
    truth: () => ({
      t: carTime(),
      loads: perCorner((_, i) => (dynamics.loads[i] as number) * (here / gravity)),
      rise: perCorner((_, i) => dynamics.rise(i)),
      seats: car.seats(),
      padHeights,
      gravity: here,
      pads: pads.map(({ name, pad }) => ({
        name,
        serial: pad.serial,
        spanError: pad.electronics.spanError,
        zero: pad.electronics.zero,
        clockError: pad.clockError,
        blinks: pad.blinks(carTime()),
        air: { ...pad.air.count },
      })),
    }),
    stop,
  };
};
