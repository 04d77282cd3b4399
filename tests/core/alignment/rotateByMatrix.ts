import { matrix, multiply, rotationMatrix } from 'mathjs';

/** x forward, y left, z up: the car's own axes, for either side. */
export type Point = readonly [number, number, number];

/** Turns a point about an axis by a general-purpose library's rotation matrix. */
export const rotateByMatrix = (angle: number, axis: Point, point: Point): Point => {
  const turn = rotationMatrix(angle, matrix([...axis]));
  const [x = Number.NaN, y = Number.NaN, z = Number.NaN] = multiply(turn, matrix([...point]))
    .toArray()
    .map(Number);
  return [x, y, z];
};

export const DEGREE = Math.PI / 180;

/** A wheel of a car, built by matrices: its axis (outboard) and a level line along it (forward). */
export const wheelByMatrix = (
  side: 'left' | 'right',
  { camber, toe }: { readonly camber: number; readonly toe: number },
): { readonly axis: Point; readonly line: Point } => {
  const left = side === 'left' ? 1 : -1;
  // Camber: top outboard is a turn about x, to the left wheel negative. Toe-in turns the left wheel right.
  const leant = rotateByMatrix(-left * camber, [1, 0, 0], [0, left, 0]);
  return {
    axis: rotateByMatrix(-left * toe, [0, 0, 1], leant),
    line: rotateByMatrix(-left * toe, [0, 0, 1], [1, 0, 0]),
  };
};

/** The steering axis as a direction in the car: leaning back by caster and inboard by inclination. */
export const steeringAxis = (
  side: 'left' | 'right',
  { caster, inclination }: { readonly caster: number; readonly inclination: number },
): Point => [-Math.tan(caster), (side === 'left' ? -1 : 1) * Math.tan(inclination), 1];

/** What gauges see of a wheel turned to the left by `left` about the steering axis. */
export const seenByMatrix = (
  side: 'left' | 'right',
  axis: { readonly caster: number; readonly inclination: number },
  straight: { readonly camber: number; readonly toe: number },
  left: number,
): { readonly camber: number; readonly toe: number; readonly level: number } => {
  const wheel = wheelByMatrix(side, straight);
  const about = steeringAxis(side, axis);
  const spin = rotateByMatrix(left, about, wheel.axis);
  const line = rotateByMatrix(left, about, wheel.line);
  return {
    // The top leans out as much as the axle points down on its outboard end.
    camber: -Math.asin(spin[2]),
    toe: Math.atan2(spin[0], Math.abs(spin[1])),
    level: Math.asin(line[2]),
  };
};
