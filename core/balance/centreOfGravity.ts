import type { Measured } from '../measured.ts';
import { propagate, type Four, type JointForces } from './propagate.ts';

/** Wheelbase and tracks of a car, metre: inputs, taken as exact. */
export interface Footprint {
  readonly wheelbase: number;
  readonly trackFront: number;
  readonly trackRear: number;
}

const ALL: Four = [1, 1, 1, 1];

/**
 * Where the centre of gravity lies over the four pads, metre, with standard uncertainty: behind the
 * front axle a = L·(LR + RR)/W, and left of the centre line
 * y = [(LF − RF)·t_f/2 + (LR − RR)·t_r/2]/W (moments about the front axle and the centre line of a
 * level car; axes after ISO 8855). The pads stand under the wheel centres at track and wheelbase.
 */
export const centreOfGravity = (
  forces: JointForces,
  car: Footprint,
): { readonly behindFrontAxle: Measured; readonly leftOfCentre: Measured } => {
  const front = car.trackFront / 2;
  const rear = car.trackRear / 2;
  return {
    behindFrontAxle: propagate(forces, { scale: car.wheelbase, over: [0, 0, 1, 1], under: ALL }),
    leftOfCentre: propagate(forces, { scale: 1, over: [front, -front, rear, -rear], under: ALL }),
  };
};
