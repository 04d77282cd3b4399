import { CORNERS, perCorner, type PerCorner } from '../corners.ts';
import type { Car } from '../sheet/car.ts';
import {
  metre,
  newton,
  type Kilogram,
  type Metre,
  type MetrePerSecond2,
  type Newton,
} from '../units.ts';
import { solvePositiveDefinite } from './solvePositiveDefinite.ts';

/**
 * Full statics of a car on four pads: F = diag(k)·c + K·(z − A·q). K is the wheel rates with the
 * bars added (a seat preloads only its own spring, a pad also moves the bar), c the seat heights at
 * the wheel, z the pad heights, q the body's motion. It knows nothing of friction, dampers, stops.
 *
 * Axes and signs after ISO 8855: x forward, y left, z up, origin on the ground below the front
 * axle. Heave is up, pitch positive nose-down, roll positive with the left side up; the body at
 * (x, y) rises by heave − pitch·x + roll·y. Small angles.
 *
 * Chassis twist. The body is two lumps, one at each axle, that share heave and pitch and are joined
 * by the torsional stiffness: each rolls by its own angle. The front lump weighs mass·frontShare,
 * the rear one the rest; both have their centre of gravity `cgLeft` left of the centre line and at
 * the car's height. With no stiffness given both roll as one and the split does not matter.
 *
 * Tilt. A lump whose attitude changes by (pitch, roll) turns about the ground: its centre of
 * gravity goes forward by height·pitch and right by height·roll. The attitude is counted from the
 * one in which mass, share and cgLeft are true: standing on level pads, seats at their reference (c
 * = 0), bars off. With no height given the centre of gravity stays where it is.
 */

/** A car with its mass: `frontShare` of 1, `cgLeft` from the centre line, both as it stands. */
export interface StandingCar {
  readonly car: Car;
  readonly mass: Kilogram;
  readonly frontShare: number;
  readonly cgLeft: Metre;
  readonly gravity: MetrePerSecond2;
}

/** What the car stands on: metre, up positive. */
export interface Supports {
  /** Seat heights at the wheel against the reference: turns · pitch / motion ratio. */
  readonly seats: PerCorner<number>;
  readonly pads: PerCorner<number>;
  readonly bars: 'on' | 'off';
}

export interface Statics {
  /** Load on each pad. Below zero the wheel would lift, and what is linear here no longer holds. */
  readonly loads: PerCorner<Newton>;
  /** How far the body is above its reference attitude, over each wheel. */
  readonly rise: PerCorner<Metre>;
}

type Quad = readonly [number, number, number, number];
interface Attitude {
  readonly pitch: number;
  readonly rollFront: number;
  readonly rollRear: number;
}

const LEVEL: PerCorner<number> = { LF: 0, RF: 0, LR: 0, RR: 0 };

/** Rows of A: what heave, pitch and the rolls of both lumps lift at each wheel. */
const geometry = (car: Car): readonly (readonly number[])[] => {
  const wheels = [
    [0, car.trackFront / 2],
    [0, -car.trackFront / 2],
    [-car.wheelbase, car.trackRear / 2],
    [-car.wheelbase, -car.trackRear / 2],
  ] as const;
  return wheels.map(([x, y], index) => {
    const roll = index < 2 ? [y, 0] : [0, y];
    return car.chassisStiffness === null ? [1, -x, y] : [1, -x, ...roll];
  });
};

/** Rows of K: wheel rates, with each bar's force per metre of difference across its axle. */
const stiffness = (car: Car, bars: Supports['bars']): readonly Quad[] => {
  const [f, r] = bars === 'on' ? [car.barFront, car.barRear] : [0, 0];
  const k = car.wheelRates;
  return [
    [k.LF + f, -f, 0, 0],
    [-f, k.RF + f, 0, 0],
    [0, 0, k.LR + r, -r],
    [0, 0, -r, k.RR + r],
  ];
};

const dot = (a: readonly number[], b: readonly number[]): number =>
  a.reduce((sum, value, index) => sum + value * (b[index] as number), 0);

/**
 * Solves for q; `reference` is the attitude in which the centre of gravity is where it is given.
 */
const bodyMotion = (
  { car, mass, frontShare, cgLeft, gravity }: StandingCar,
  supports: Supports,
  reference: Attitude | null,
): readonly number[] => {
  const rows = geometry(car);
  const k = stiffness(car, supports.bars);
  const columns = (rows[0] as readonly number[]).map((_, j) => rows.map((row) => row[j] as number));
  const n = columns.length;
  const weight = mass * gravity;
  const front = weight * frontShare;
  const rear = weight - front;
  // With no height the product below is zero, whatever the attitude.
  const h = reference === null ? 0 : (car.cgHeight ?? 0);
  const from = reference ?? { pitch: 0, rollFront: 0, rollRear: 0 };

  const matrix = columns.flatMap((a) =>
    columns.map((b) =>
      dot(
        a,
        k.map((row) => dot(row, b)),
      ),
    ),
  );
  const add = (row: number, column: number, value: number): void => {
    matrix[row * n + column] = (matrix[row * n + column] as number) + value;
  };
  const pushed = CORNERS.map(
    (corner, i) =>
      car.wheelRates[corner] * supports.seats[corner] +
      dot(
        k[i] as Quad,
        CORNERS.map((other) => supports.pads[other]),
      ),
  );
  const right = columns.map((column) => dot(column, pushed));
  const load = (row: number, value: number): void => {
    right[row] = (right[row] as number) + value;
  };

  load(0, -weight);
  load(1, -rear * car.wheelbase - weight * h * from.pitch);
  add(1, 1, -weight * h);
  if (car.chassisStiffness === null) {
    load(2, -weight * cgLeft - h * (front * from.rollFront + rear * from.rollRear));
    add(2, 2, -weight * h);
  } else {
    load(2, -front * (cgLeft + h * from.rollFront));
    load(3, -rear * (cgLeft + h * from.rollRear));
    add(2, 2, car.chassisStiffness - front * h);
    add(3, 3, car.chassisStiffness - rear * h);
    add(2, 3, -car.chassisStiffness);
    add(3, 2, -car.chassisStiffness);
  }
  return solvePositiveDefinite(matrix, right);
};

const attitudeOf = (q: readonly number[]): Attitude => ({
  pitch: q[1] as number,
  rollFront: q[2] as number,
  rollRear: (q[3] ?? q[2]) as number,
});

/**
 * Loads and body heights of a standing car. The result is affine in seats and pads, so a response
 * per turn is the difference of two calls. Throws RangeError on a mass or share that no car has,
 * and where the centre of gravity is so high that the car would fall over on its springs.
 */
export const statics = (standing: StandingCar, supports: Supports): Statics => {
  const { car, mass, frontShare } = standing;
  if (!(mass > 0)) throw new RangeError(`not a car's mass: ${mass}`);
  if (!(frontShare > 0 && frontShare < 1)) throw new RangeError(`not a front share: ${frontShare}`);
  const rows = geometry(car);
  const k = stiffness(car, supports.bars);
  const reference = bodyMotion(standing, { seats: LEVEL, pads: LEVEL, bars: 'off' }, null);
  const q = bodyMotion(standing, supports, attitudeOf(reference));
  const bodyOver = (row: readonly number[]): number => dot(row, q);
  const compressions = CORNERS.map(
    (corner, i) => supports.pads[corner] - bodyOver(rows[i] as readonly number[]),
  );
  return {
    loads: perCorner((corner, i) =>
      newton(car.wheelRates[corner] * supports.seats[corner] + dot(k[i] as Quad, compressions)),
    ),
    rise: perCorner((_, i) =>
      metre(bodyOver(rows[i] as readonly number[]) - dot(rows[i] as readonly number[], reference)),
    ),
  };
};
