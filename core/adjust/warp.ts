import { inOrder, perCorner, type PerCorner } from '../corners.ts';
import type { Car } from '../sheet/car.ts';
import { newton, type Newton } from '../units.ts';

/**
 * The warp: the one load pattern that perches and pad heights can make. Four loads less three
 * equations of equilibrium leave one pattern free, n = (1, −1, −t_f/t_r, +t_f/t_r) for LF, RF, LR,
 * RR: it has no sum, no pitch moment and no roll moment. Closed form with the bars off (the full
 * statics in `statics.ts` knows bars and the centre of gravity's shift):
 *
 *   ΔF = n · (Σ n_j (c_j + z_j)) / (Σ n_j²/k_j + t_f²/K_t)
 *
 * derived from compatibility: the strut compressions k_j⁻¹·n_j·λ and the chassis twist t_f·λ/K_t
 * together take up the twist of what the car stands on.
 */

/** The pattern n, no unit; positive on a corner that gains when the sense is left front up. */
export const warpPattern = (car: Car): PerCorner<number> => {
  const ratio = car.trackFront / car.trackRear;
  return { LF: 1, RF: -1, LR: -ratio, RR: ratio };
};

/**
 * Twist Σ n_j h_j of four heights, in their unit: how far the left front is out of the plane of the
 * other three. Heights that lie in one plane have none.
 */
export const twist = (car: Car, heights: PerCorner<number>): number => {
  const n = inOrder(warpPattern(car));
  return inOrder(heights).reduce((sum, height, index) => sum + (n[index] as number) * height, 0);
};

/** Newton at the left front per metre of twist, bars off; the other corners follow the pattern. */
export const warpStiffness = (car: Car): number => {
  const n = inOrder(warpPattern(car));
  const rates = inOrder(car.wheelRates);
  const struts = n.reduce((sum, nj, index) => sum + nj ** 2 / (rates[index] as number), 0);
  const chassis = car.chassisStiffness === null ? 0 : car.trackFront ** 2 / car.chassisStiffness;
  return 1 / (struts + chassis);
};

/**
 * Change of the four loads when seats are raised by `seats` and pads by `pads` (metre at the wheel,
 * up positive), bars off, the centre of gravity taken as staying where it is.
 */
export const warpLoadChange = (
  car: Car,
  seats: PerCorner<number>,
  pads: PerCorner<number>,
): PerCorner<Newton> => {
  const n = warpPattern(car);
  const atLeftFront = warpStiffness(car) * (twist(car, seats) + twist(car, pads));
  return perCorner((corner) => newton(n[corner] * atLeftFront));
};
