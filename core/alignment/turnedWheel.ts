import { findRoot } from '../statistics/findRoot.ts';

/**
 * A wheel turned about its steering axis, exactly. All in the wheel's own half of the car, so that it
 * holds for either side: x forward, outboard, z up. Angles in rad.
 */

export interface SteeringAxis {
  /** Positive where the axis leans back at the top. */
  readonly caster: number;
  /** Positive where it leans inboard at the top. */
  readonly inclination: number;
}

export interface WheelAttitude {
  /** Negative where the top leans inboard. */
  readonly camber: number;
  /** Positive where the front points inboard. */
  readonly toe: number;
}

/** x forward, outboard, z up. */
export type Vector = readonly [number, number, number];

/** The wheel's own axis, pointing outboard. */
export const spinAxis = ({ camber, toe }: WheelAttitude): Vector => [
  Math.cos(camber) * Math.sin(toe),
  Math.cos(camber) * Math.cos(toe),
  -Math.sin(camber),
];

/** Direction of the steering axis, upward: (−tan τ, −tan σ, 1)/√(1 + tan²τ + tan²σ). */
const upward = ({ caster, inclination }: SteeringAxis): Vector => {
  const [x, y] = [-Math.tan(caster), -Math.tan(inclination)];
  const size = Math.hypot(x, y, 1);
  return [x / size, y / size, 1 / size];
};

export const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];

/** Rodrigues' rotation of v about the unit vector u; positive turns the wheel's front outboard. */
const rotated = (v: Vector, u: Vector, angle: number): Vector => {
  const along = v[0] * u[0] + v[1] * u[1] + v[2] * u[2];
  const across = cross(u, v);
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const turn = (k: 0 | 1 | 2): number => v[k] * c + across[k] * s + u[k] * along * (1 - c);
  return [turn(0), turn(1), turn(2)];
};

export interface TurnedWheel extends WheelAttitude {
  /** Slope of a line on the wheel that lay level along it while it stood straight, front up positive. */
  readonly level: number;
}

/**
 * Camber and toe of a wheel after a turn of `turnOut` about its steering axis, toed-out positive (to the
 * left for a left wheel, to the right for a right one); `straight` is how it stands before. The wheel
 * does not roll meanwhile.
 */
export const turnedWheel = (
  axis: SteeringAxis,
  straight: WheelAttitude,
  turnOut: number,
): TurnedWheel => {
  const u = upward(axis);
  const [x, y, z] = rotated(spinAxis(straight), u, turnOut);
  const line = rotated([Math.cos(straight.toe), -Math.sin(straight.toe), 0], u, turnOut);
  return { camber: Math.asin(-z), toe: Math.atan2(x, y), level: Math.asin(line[2]) };
};

/** No wheel is steered further on turn plates; within it the angle seen grows with the turn. */
const MOST_TURN = 1.2;

/**
 * The turn about the steering axis that shows as `steer` on a turn plate, which sees only the angle from
 * above; toed-out positive. Null where none up to 69° does.
 */
export const turnForSteer = (
  axis: SteeringAxis,
  straight: WheelAttitude,
  steer: number,
): number | null => {
  const missing = (turn: number): number =>
    straight.toe - turnedWheel(axis, straight, turn).toe - steer;
  if (!(missing(-MOST_TURN) < 0 && missing(MOST_TURN) > 0)) return null;
  return findRoot(missing, -MOST_TURN, MOST_TURN);
};
