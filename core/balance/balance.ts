import type { Balance, CrossDiagonal } from '../contract/records.ts';
import { inOrder, type PerCorner } from '../corners.ts';
import type { Measured } from '../measured.ts';
import { centreOfGravity, type Footprint } from './centreOfGravity.ts';
import { propagate, type Four, type JointForces } from './propagate.ts';

const ALL: Four = [1, 1, 1, 1];

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
  const corners = inOrder(input.forces);
  const [lf, rf, lr, rr] = corners;
  const covariance =
    input.covariance ??
    corners.flatMap((own, row) => corners.map((_, column) => (row === column ? own.u ** 2 : 0)));
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

  const named: Four = cross === 'RF+LR' ? [0, 1, 1, 0] : [1, 0, 0, 1];
  const overOther: Four = cross === 'RF+LR' ? [-1, 1, 1, -1] : [1, -1, -1, 1];
  const centre = centreOfGravity(forces, input);
  return {
    total,
    front: mass([1, 1, 0, 0]),
    rear: mass([0, 0, 1, 1]),
    left: mass([1, 0, 1, 0]),
    right: mass([0, 1, 0, 1]),
    frontShare: share([1, 1, 0, 0]),
    leftShare: share([1, 0, 1, 0]),
    crossShare: share(named),
    cross,
    frontDifference: mass([1, -1, 0, 0]),
    rearDifference: mass([0, 0, 1, -1]),
    diagonalDifference: mass(overOther),
    cgBehindFrontAxle: centre.behindFrontAxle,
    cgLeftOfCentre: centre.leftOfCentre,
  };
};
