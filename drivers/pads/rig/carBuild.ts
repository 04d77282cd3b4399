import { CORNERS, perCorner, type PerCorner } from '../../../core/corners.ts';
import type { Car } from '../../../core/sheet/car.ts';

/**
 * What the practice car is made of, beyond what a car sheet says. Every share below is common
 * practice without a source, chosen so that the body's modes lie between 2 and 5 Hz with damping
 * ratios between 0.3 and 0.8, as of a lowered race car.
 */

export interface CarMass {
  /** kg */
  readonly mass: number;
  /** Part of the weight on the front axle, standing level with the perches at their reference. */
  readonly frontShare: number;
  /** Centre of gravity left of the centre line, metre. */
  readonly cgLeft: number;
}

export interface CarBuild {
  readonly car: Car;
  readonly mass: CarMass;
  readonly bars: 'on' | 'off';
  /** m/s² */
  readonly gravity: number;
  /** Coulomb friction of each strut, newton at the wheel; 0 is none. */
  readonly friction: PerCorner<number>;
  /** Share of each wheel rate that relaxes after a move (rubber, seals, gas); 0 is none. */
  readonly relaxing: PerCorner<number>;
  /** Damping ratios of a corner by itself. */
  readonly damping: { readonly bump: number; readonly rebound: number };
}

/** Damping as the rig has it. */
export const USUAL_DAMPING = { bump: 0.26, rebound: 0.42 } as const;

/** Unsprung share of what stands on an axle: upright, hub and set-up wheel. */
const UNSPRUNG_SHARE = 0.1;
/** Radius of gyration in roll about the ground, of the mean track. */
const ROLL_RADIUS = 0.42;
/** Pitch inertia beyond that of two lumps at the axles: radius of gyration, of the wheelbase. */
const EXTRA_PITCH_RADIUS = 0.16;
/** Newton per metre of a droop stop, and of each of the four jacking points. */
const DROOP_STOP_RATE = 1e6;
const JACK_RATE = 4e5;
/** Damping ratio of the chassis in twist by itself. */
const TWIST_DAMPING = 0.05;
/** Longest step, s; and the largest product of step and fastest angular frequency. */
const LONGEST_STEP = 1e-3;
const STEP_TIMES_FREQUENCY = 0.4;
/**
 * Finer steps than this are not taken: a chassis stiffer than they can follow is taken as rigid.
 */
const FINEST_PER_LONGEST = 10;

/** Numbers of the moving car, ready for the integrator: front before rear, LF RF LR RR. */
export interface CarNumbers {
  readonly step: number;
  readonly gravity: number;
  readonly wheelbase: number;
  /** Lateral place of each wheel, left positive. */
  readonly y: Float64Array;
  readonly rate: Float64Array;
  readonly bar: readonly [number, number];
  readonly bump: Float64Array;
  readonly rebound: Float64Array;
  readonly relaxRate: Float64Array;
  readonly friction: Float64Array;
  /** Weight of each wheel with its upright, N. */
  readonly unsprung: Float64Array;
  /** Sprung mass of each lump, kg, and its weight's moment about the centre line, N·m. */
  readonly sprung: readonly [number, number];
  readonly sideMoment: readonly [number, number];
  readonly rollInertia: readonly [number, number];
  /** Inverse mass matrix of the heights of the two axles' middles: [ff, fr, rr]. */
  readonly inverseMass: readonly [number, number, number];
  /** Off-diagonal of the mass matrix itself, kg, without its minus sign. */
  readonly sharedMass: number;
  /** Weight · height of the centre of gravity of what each lump carries, N·m. */
  readonly tilt: readonly [number, number];
  /** Torsional stiffness and damping; null where both lumps roll as one. */
  readonly twist: { readonly stiffness: number; readonly damping: number } | null;
  readonly droopStopRate: number;
  readonly jackRate: number;
}

/**
 * Works the numbers out. The wheels' own mass is counted in the pads' loads and in the tilting
 * moment as the statics has it: all of the weight at the car's height, so that the sprung lumps
 * carry what the wheels, taken at ground level, do not.
 */
export const carNumbers = (build: CarBuild): CarNumbers => {
  const { car, mass, gravity } = build;
  const carried = [mass.mass * mass.frontShare, mass.mass * (1 - mass.frontShare)] as const;
  const halfTracks = [car.trackFront / 2, car.trackRear / 2] as const;
  const perWheel = <T>(make: (axle: 0 | 1, side: 1 | -1, index: number) => T): T[] =>
    CORNERS.map((_, index) => make(index < 2 ? 0 : 1, index % 2 === 0 ? 1 : -1, index));
  const rates = CORNERS.map((corner) => car.wheelRates[corner]);
  const sprung = [carried[0] * (1 - UNSPRUNG_SHARE), carried[1] * (1 - UNSPRUNG_SHARE)] as const;
  const critical = perWheel(
    (axle, _, index) => 2 * Math.sqrt(((rates[index] as number) * sprung[axle]) / 2),
  );
  const rollRadius = (ROLL_RADIUS * (car.trackFront + car.trackRear)) / 2;
  const rollInertia = [sprung[0] * rollRadius ** 2, sprung[1] * rollRadius ** 2] as const;

  // Heights of the axles' middles: [[front + extra, −extra], [−extra, rear + extra]], inverted.
  const extra = (sprung[0] + sprung[1]) * EXTRA_PITCH_RADIUS ** 2;
  const determinant = sprung[0] * sprung[1] + extra * (sprung[0] + sprung[1]);
  const inverseMass = [
    (sprung[1] + extra) / determinant,
    extra / determinant,
    (sprung[0] + extra) / determinant,
  ] as const;

  const reducedInertia = 1 / (1 / rollInertia[0] + 1 / rollInertia[1]);
  const lightest = Math.min(sprung[0], sprung[1]) / 2;
  const stiffest = Math.max(...rates) + 2 * Math.max(car.barFront, car.barRear) + DROOP_STOP_RATE;
  const stepFor = (frequency: number): number =>
    Math.ceil((LONGEST_STEP * frequency) / STEP_TIMES_FREQUENCY);
  const bounce = stepFor(Math.sqrt(stiffest / lightest));
  const torsion = stepFor(Math.sqrt((car.chassisStiffness ?? 0) / reducedInertia));
  const twistStiffness = torsion > FINEST_PER_LONGEST ? null : car.chassisStiffness;
  const parts = Math.max(1, bounce, twistStiffness === null ? 1 : torsion);

  const height = car.cgHeight ?? 0;
  const barsOn = build.bars === 'on';
  return {
    step: LONGEST_STEP / parts,
    gravity,
    wheelbase: car.wheelbase,
    y: Float64Array.from(perWheel((axle, side) => side * halfTracks[axle])),
    rate: Float64Array.from(rates),
    bar: [barsOn ? car.barFront : 0, barsOn ? car.barRear : 0],
    bump: Float64Array.from(critical.map((value) => build.damping.bump * value)),
    rebound: Float64Array.from(critical.map((value) => build.damping.rebound * value)),
    relaxRate: Float64Array.from(
      CORNERS.map((corner, i) => build.relaxing[corner] * (rates[i] as number)),
    ),
    friction: Float64Array.from(CORNERS.map((corner) => build.friction[corner])),
    unsprung: Float64Array.from(perWheel((axle) => (carried[axle] * UNSPRUNG_SHARE * gravity) / 2)),
    sprung,
    // The wheels stand evenly about the centre line, so all of the side moment is the body's.
    sideMoment: [carried[0] * gravity * mass.cgLeft, carried[1] * gravity * mass.cgLeft],
    rollInertia,
    inverseMass,
    sharedMass: extra,
    tilt: [carried[0] * gravity * height, carried[1] * gravity * height],
    twist:
      twistStiffness === null
        ? null
        : {
            stiffness: twistStiffness,
            damping: 2 * TWIST_DAMPING * Math.sqrt(twistStiffness * reducedInertia),
          },
    droopStopRate: DROOP_STOP_RATE,
    jackRate: JACK_RATE,
  };
};

/** The same value at every corner. */
export const everyCorner = (value: number): PerCorner<number> => perCorner(() => value);
