import type { CarNumbers } from './carBuild.ts';
import { BRISTLE_RATE, carEnergy, type CarMotion } from './carEnergy.ts';

/**
 * A car on four pads, integrated in time: the heights of the two axles' middles (heave and pitch)
 * and the roll of the front and the rear lump of the body (one roll where the chassis is rigid) on
 * four struts, each with a spring, a damper with bump and rebound, Coulomb friction, a part that
 * relaxes, a droop stop, and the weight of its wheel. Set-up wheels and pads are rigid.
 *
 * Axes and signs are those of core/adjust/statics.ts, and so is the rest state, but nothing of it
 * is used: even the reference attitude is found by letting the car settle.
 *
 * Friction is Dahl's model (P. Dahl, AIAA Journal 14 (1976) 1675): a bristle that bends and slips,
 * so that a strut holds any force within ± its friction and the resting load depends on how the car
 * came there. Integration is semi-implicit Euler: where nothing damps, its energy swings by a share
 * of about step · frequency and does not grow, and a rest state is one of the equations, whatever
 * the step.
 */
export interface CarDynamics {
  /** Length of a step, s. */
  readonly step: number;
  /** Load on each pad now, newton, LF RF LR RR; exactly zero where the wheel hangs clear. */
  readonly loads: Float64Array;
  /**
   * Seat heights at the wheel and pad heights, metre, LF RF LR RR: written by whoever turns them.
   */
  readonly seats: Float64Array;
  readonly pads: Float64Array;
  /** Friction of each strut at the wheel, newton, LF RF LR RR. */
  readonly friction: Float64Array;
  /** Heights of the jack under the front and the rear, above where it touches at the reference. */
  readonly jack: Float64Array;
  /**
   * A push down on the body: newton, and its place x forward and y left of the front axle, metre.
   */
  readonly push: Float64Array;
  /** Weight that is gone from the body, as `push` with its sign turned: newton up, x, y. */
  readonly gone: Float64Array;
  /** Moves on by one step. */
  advance(): void;
  /** How far the body is above its reference over a wheel, metre. */
  rise(index: number): number;
  /**
   * Kinetic and stored energy, joule, from an arbitrary zero. The jack's and the push's are left
   * out.
   */
  energy(): number;
  /** Largest of the body's speeds over the wheels, m/s. */
  speed(): number;
  /** Lifts the body as it stands; its speed becomes zero. For beginning raised. */
  lift(by: number): void;
}

/** How far the body rises over a wheel from the reference until the droop stop is met, metre. */
export const DROOP_TRAVEL = 0.035;
/** Seconds in which the relaxing part gives way; common practice, no source. */
const RELAXING_TIME = 1.2;
/** The jack's damping against its rate, s; and half its width, metre. */
const JACK_DAMPING_TIME = 0.03;
const JACK_HALF_WIDTH = 0.35;

/** Where the body stands: [front height, rear height, front roll, rear roll]. */
export type Attitude = readonly [number, number, number, number];

/** Makes the integrator; with no reference the body begins level, has no stops and never tilts. */
export const integrateCar = (
  car: CarNumbers,
  reference: Attitude | null,
): CarDynamics & { attitude(): Attitude } => {
  const {
    step,
    y,
    rate,
    bump,
    rebound,
    relaxRate,
    friction,
    unsprung,
    wheelbase,
    twist,
    inverseMass,
  } = car;
  const [uf0, ur0, pf0, pr0] = reference ?? [0, 0, 0, 0];
  const pitch0 = (ur0 - uf0) / wheelbase;
  const at = Float64Array.of(uf0, ur0, pf0, pr0);
  const speeds = new Float64Array(4);
  const seats = new Float64Array(4);
  const pads = new Float64Array(4);
  const loads = new Float64Array(4);
  const jack = Float64Array.of(-Infinity, -Infinity);
  const push = new Float64Array(3);
  const gone = new Float64Array(3);
  const bristle = new Float64Array(4);
  const relaxed = new Float64Array(4);
  /** Body over wheel at the droop stop; none while the reference itself is being found. */
  const stop = Float64Array.from(y, (yi, i) =>
    reference === null
      ? Infinity
      : reference[i < 2 ? 0 : 1] + reference[i < 2 ? 2 : 3] * yi + DROOP_TRAVEL,
  );
  const over = (index: number): number =>
    (at[index >> 1] as number) + (at[2 + (index >> 1)] as number) * (y[index] as number);
  for (let i = 0; i < 4; i += 1) relaxed[i] = -over(i);
  const motion: CarMotion = {
    at,
    speeds,
    bristle,
    relaxed,
    seats,
    pads,
    stop,
    reference: [uf0, ur0, pf0, pr0],
  };
  const relaxingShare = step / (RELAXING_TIME + step);

  /** What acts on each lump: force up and roll moment. Arrays, so that no step allocates. */
  const forces = new Float64Array(2);
  const moments = new Float64Array(2);
  const acts = (axle: number, force: number, y0: number): void => {
    forces[axle] = (forces[axle] as number) + force;
    moments[axle] = (moments[axle] as number) + force * y0;
  };

  /** The two struts of an axle: their forces on wheels and body, and what they remember. */
  const struts = (axle: number): void => {
    const left = 2 * axle;
    // The wheel follows the body where it hangs on its stop, and so does the bar.
    const across =
      Math.min(over(left) - (pads[left] as number), stop[left] as number) -
      Math.min(over(left + 1) - (pads[left + 1] as number), stop[left + 1] as number);
    for (let i = left; i < left + 2; i += 1) {
      const yi = y[i] as number;
      const weight = unsprung[i] as number;
      const stopAt = stop[i] as number;
      const limit = friction[i] as number;
      const extension = over(i) - (pads[i] as number);
      const opening = (speeds[axle] as number) + (speeds[2 + axle] as number) * yi;
      const squeeze = (seats[i] as number) - Math.min(extension, stopAt);
      const slip = limit > 0 ? (BRISTLE_RATE * Math.abs(opening) * step) / limit : 0;
      const bent = limit > 0 ? ((bristle[i] as number) - opening * step) / (1 + slip) : 0;
      // A coil spring does not pull: below the wheel's own weight its seat is loose.
      let force = Math.max(0, (rate[i] as number) * squeeze - weight);
      force -= (opening < 0 ? (bump[i] as number) : (rebound[i] as number)) * opening;
      force += (relaxRate[i] as number) * (squeeze - (relaxed[i] as number));
      force -= (i === left ? (car.bar[axle] as number) : -(car.bar[axle] as number)) * across;
      force += BRISTLE_RATE * bent;
      if (extension > stopAt) force -= car.droopStopRate * (extension - stopAt);
      if (force > -weight) {
        loads[i] = force + weight;
        bristle[i] = bent;
      } else {
        // The wheel hangs clear on its stop: the strut stands still and the body carries the wheel.
        force = -weight;
        loads[i] = 0;
      }
      relaxed[i] = (relaxed[i] as number) + (squeeze - (relaxed[i] as number)) * relaxingShare;
      acts(axle, force, yi);
    }
  };

  /** The jack under an axle: two points that push and never pull. */
  const lifting = (axle: number): void => {
    const height = (jack[axle] as number) + (axle === 0 ? uf0 : ur0) - (at[axle] as number);
    for (let side = -1; side < 2; side += 2) {
      const yj = side * JACK_HALF_WIDTH;
      const gap = height - (at[2 + axle] as number) * yj;
      if (!(gap > 0)) continue;
      const rising = (speeds[axle] as number) + (speeds[2 + axle] as number) * yj;
      acts(axle, Math.max(0, car.jackRate * (gap - JACK_DAMPING_TIME * rising)), yj);
    }
  };

  const pressed = (by: Float64Array, sign: 1 | -1): void => {
    const down = sign * (by[0] as number);
    const toRear = -(by[1] as number) / wheelbase;
    acts(0, -down * (1 - toRear), 0);
    acts(1, -down * toRear, 0);
    // A push to the side rolls the lump it is nearer to.
    const nearer = toRear > 0.5 ? 1 : 0;
    moments[nearer] = (moments[nearer] as number) - down * (by[2] as number);
  };

  /** Weight, its moments, the push, and what tilt and chassis twist add. */
  const bodyForces = (): void => {
    const pitched = ((at[1] as number) - (at[0] as number)) / wheelbase - pitch0;
    const tipping = ((car.tilt[0] + car.tilt[1]) * pitched) / wheelbase;
    acts(0, -car.sprung[0] * car.gravity - tipping, 0);
    acts(1, -car.sprung[1] * car.gravity + tipping, 0);
    pressed(push, 1);
    pressed(gone, -1);
    const rollFront = at[2] as number;
    const rollRear = at[3] as number;
    let torque = 0;
    if (twist !== null) {
      torque = twist.stiffness * (rollFront - rollRear);
      torque += twist.damping * ((speeds[2] as number) - (speeds[3] as number));
    }
    moments[0] =
      (moments[0] as number) + car.tilt[0] * (rollFront - pf0) - car.sideMoment[0] - torque;
    moments[1] =
      (moments[1] as number) + car.tilt[1] * (rollRear - pr0) - car.sideMoment[1] + torque;
  };

  const advance = (): void => {
    forces.fill(0);
    moments.fill(0);
    for (let axle = 0; axle < 2; axle += 1) {
      struts(axle);
      lifting(axle);
    }
    bodyForces();
    const front = forces[0] as number;
    const rear = forces[1] as number;
    const mf = moments[0] as number;
    const mr = moments[1] as number;
    const jf = car.rollInertia[0];
    const jr = car.rollInertia[1];
    const rigid = (mf + mr) / (jf + jr);
    speeds[0] = (speeds[0] as number) + step * (inverseMass[0] * front + inverseMass[1] * rear);
    speeds[1] = (speeds[1] as number) + step * (inverseMass[1] * front + inverseMass[2] * rear);
    speeds[2] = (speeds[2] as number) + step * (twist === null ? rigid : mf / jf);
    speeds[3] = (speeds[3] as number) + step * (twist === null ? rigid : mr / jr);
    for (let i = 0; i < 4; i += 1) at[i] = (at[i] as number) + step * (speeds[i] as number);
  };

  const referenceOver = (i: number): number =>
    i < 2 ? uf0 + pf0 * (y[i] as number) : ur0 + pr0 * (y[i] as number);
  return {
    step,
    loads,
    seats,
    pads,
    friction,
    jack,
    push,
    gone,
    advance,
    energy: () => carEnergy(car, motion),
    rise: (index) => over(index) - referenceOver(index),
    speed: () => {
      let fastest = 0;
      for (let i = 0; i < 4; i += 1)
        fastest = Math.max(
          fastest,
          Math.abs(
            (speeds[i >> 1] as number) + (speeds[2 + (i >> 1)] as number) * (y[i] as number),
          ),
        );
      return fastest;
    },
    lift: (by) => {
      at[0] = (at[0] as number) + by;
      at[1] = (at[1] as number) + by;
      speeds.fill(0);
    },
    attitude: () => [at[0] as number, at[1] as number, at[2] as number, at[3] as number],
  };
};
