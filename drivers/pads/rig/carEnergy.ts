import type { CarNumbers } from './carBuild.ts';

/** Newton per metre of a friction bristle while it sticks; common practice, no source. */
export const BRISTLE_RATE = 5e5;

/** How the car stands and moves; the arrays are the integrator's own. */
export interface CarMotion {
  /** Height of the front axle's middle, of the rear's, front roll, rear roll; and their speeds. */
  readonly at: Float64Array;
  readonly speeds: Float64Array;
  /** Bend of each strut's friction bristle, and the squeeze its relaxing part has come to. */
  readonly bristle: Float64Array;
  readonly relaxed: Float64Array;
  readonly seats: Float64Array;
  readonly pads: Float64Array;
  /** Body over wheel at which the droop stop is met. */
  readonly stop: Float64Array;
  /** Attitude from which tilt is counted, as `at`. */
  readonly reference: readonly [number, number, number, number];
}

/**
 * Kinetic and stored energy, joule, from an arbitrary zero: what must not grow by itself. Jack and
 * push are left out, as they are hands from outside. Written from the potentials, not from the
 * forces that the integrator adds up, so that the two check each other.
 */
export const carEnergy = (car: CarNumbers, motion: CarMotion): number => {
  const [vf = 0, vr = 0, wf = 0, wr = 0] = motion.speeds;
  const [uf = 0, ur = 0, pf = 0, pr = 0] = motion.at;
  const [uf0, ur0, pf0, pr0] = motion.reference;
  const [mf, mr] = car.sprung;
  const pads = motion.pads;
  const over = (i: number): number => (i < 2 ? uf : ur) + (i < 2 ? pf : pr) * (car.y[i] as number);
  const extension = (i: number): number => over(i) - (pads[i] as number);

  let sum = 0.5 * (mf * vf ** 2 + mr * vr ** 2 + car.sharedMass * (vf - vr) ** 2);
  sum += 0.5 * (car.rollInertia[0] * wf ** 2 + car.rollInertia[1] * wr ** 2);
  sum += car.gravity * (mf * uf + mr * ur) + car.sideMoment[0] * pf + car.sideMoment[1] * pr;
  const pitched = (ur - uf - (ur0 - uf0)) / car.wheelbase;
  sum -= 0.5 * car.tilt[0] * (pitched ** 2 + (pf - pf0) ** 2);
  sum -= 0.5 * car.tilt[1] * (pitched ** 2 + (pr - pr0) ** 2);
  if (car.twist !== null) sum += 0.5 * car.twist.stiffness * (pf - pr) ** 2;
  for (let i = 0; i < 4; i += 1) {
    const squeeze = (motion.seats[i] as number) - extension(i);
    const rate = car.rate[i] as number;
    const spring = Math.max(0, rate * squeeze - (car.unsprung[i] as number));
    const unrelaxed = squeeze - (motion.relaxed[i] as number);
    sum += (0.5 * spring ** 2) / rate + 0.5 * (car.relaxRate[i] as number) * unrelaxed ** 2;
    sum += 0.5 * BRISTLE_RATE * (motion.bristle[i] as number) ** 2;
    const drooped = Math.max(0, extension(i) - (motion.stop[i] as number));
    sum += 0.5 * car.droopStopRate * drooped ** 2;
  }
  const front = extension(0) - extension(1);
  const rear = extension(2) - extension(3);
  return sum + 0.5 * (car.bar[0] * front ** 2 + car.bar[1] * rear ** 2);
};
