import { CORNERS, CORNER_NAMES, type Corner } from '../corners.ts';
import type { Footprint } from '../balance/centreOfGravity.ts';
import type { Four } from '../balance/propagate.ts';

/** Where a ride height is measured on the car, metre: x forward of the front axle, y left. */
export interface HeightPoint {
  readonly name: string;
  readonly x: number;
  readonly y: number;
}

/** The point over a wheel. */
export const overWheel = (car: Footprint, corner: Corner): HeightPoint => {
  const half = (corner === 'LF' || corner === 'RF' ? car.trackFront : car.trackRear) / 2;
  return {
    name: CORNER_NAMES[corner],
    x: corner === 'LF' || corner === 'RF' ? 0 : -car.wheelbase,
    y: corner === 'LF' || corner === 'LR' ? half : -half,
  };
};

/** The four points over the wheels. */
export const overWheels = (car: Footprint): readonly HeightPoint[] =>
  CORNERS.map((corner) => overWheel(car, corner));

/**
 * How much of the body's rise over each wheel a point has: straight along each axle and between the
 * two, so that a body that twists evenly between its axles is followed too. The four sum to one.
 */
export const riseShares = (car: Footprint, point: HeightPoint): Four => {
  const rear = -point.x / car.wheelbase;
  const front = 1 - rear;
  const f = point.y / car.trackFront;
  const r = point.y / car.trackRear;
  return [front * (0.5 + f), front * (0.5 - f), rear * (0.5 + r), rear * (0.5 - r)];
};
