import type { Balance, CrossDiagonal } from '../contract/records.ts';
import type { PerCorner } from '../corners.ts';
import type { Measured } from '../measured.ts';
import { centreOfGravity, type Footprint } from './centreOfGravity.ts';
import { propagate, type Four, type JointForces } from './propagate.ts';

const ALL: Four = [1, 1, 1, 1];

const FRONT: Four = [1, 1, 0, 0];
const REAR: Four = [0, 0, 1, 1];
const LEFT: Four = [1, 0, 1, 0];
const RIGHT: Four = [0, 1, 0, 1];
const FRONT_DIFFERENCE: Four = [1, -1, 0, 0];
const REAR_DIFFERENCE: Four = [0, 0, 1, -1];
/** Each diagonal, and what it has over the other. */
const DIAGONALS: Readonly<Record<CrossDiagonal, { readonly own: Four; readonly over: Four }>> = {
  'RF+LR': { own: [0, 1, 1, 0], over: [-1, 1, 1, -1] },
  'LF+RR': { own: [1, 0, 0, 1], over: [1, -1, -1, 1] },
};

const independent = (...u: readonly [number, number, number, number]): number[] => {
  const covariance = new Array<number>(16).fill(0);
  for (let i = 0; i < 4; i += 1) covariance[5 * i] = (u[i] as number) ** 2;
  return covariance;
};

/**
 * Least ratio of the total to its standard uncertainty for which shares are given: the propagation
 * of a ratio is linear, and at 1:30 its neglected second-order terms stay below 0.2 % of it. Below
 * that, and with nothing on the pads, there is no balance.
 */
const LEAST_SIGNAL = 30;

/**
 * Balance of a car from four forces, every field with its standard uncertainty by full covariance
 * (JCGM 100:2008, 5.2.2): masses in kg (force over `gravity`, the only place where gravity is taken
 * out), shares as fractions, lengths in metre. `covariance` is that of the four forces in N², row by
 * row in the order LF, RF, LR, RR; without it the four are taken as independent with their own u.
 * Gravity, wheelbase and tracks are inputs, taken as exact.
 *
 * Null where the total is not well above its uncertainty: nothing stands there to be balanced.
 * Throws RangeError on a gravity or length that is not above zero or a covariance that is not 16
 * finite numbers.
 */
export const balance = (
  input: Footprint & {
    readonly forces: PerCorner<Measured>;
    readonly covariance?: readonly number[];
    readonly gravity: number;
    readonly cross: CrossDiagonal;
  },
): Balance | null => {
  const { gravity, cross } = input;
  for (const size of [gravity, input.wheelbase, input.trackFront, input.trackRear])
    if (!(size > 0) || size === Infinity) throw new RangeError(`must be above zero: ${size}`);
  const { LF: lf, RF: rf, LR: lr, RR: rr } = input.forces;
  const covariance = input.covariance ?? independent(lf.u, rf.u, lr.u, rr.u);
  if (covariance.length !== 16 || !covariance.every(Number.isFinite))
    throw new RangeError('the covariance of four forces has 16 finite entries');
  const forces: JointForces = {
    values: [lf.value, rf.value, lr.value, rr.value],
    covariance,
    dof: [lf.dof, rf.dof, lr.dof, rr.dof],
  };

  const mass = (over: Four): Measured => propagate(forces, { scale: 1 / gravity, over });
  const share = (over: Four): Measured => propagate(forces, { scale: 1, over, under: ALL });

  const total = mass(ALL);
  if (!(total.value > 0) || total.value < LEAST_SIGNAL * total.u) return null;

  const diagonal = DIAGONALS[cross];
  const centre = centreOfGravity(forces, input);
  return {
    total,
    front: mass(FRONT),
    rear: mass(REAR),
    left: mass(LEFT),
    right: mass(RIGHT),
    frontShare: share(FRONT),
    leftShare: share(LEFT),
    crossShare: share(diagonal.own),
    cross,
    frontDifference: mass(FRONT_DIFFERENCE),
    rearDifference: mass(REAR_DIFFERENCE),
    diagonalDifference: mass(diagonal.over),
    cgBehindFrontAxle: centre.behindFrontAxle,
    cgLeftOfCentre: centre.leftOfCentre,
  };
};
