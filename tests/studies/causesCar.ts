import { lusolve } from 'mathjs';
import type { Measures } from '../../core/compare/causes/causeCar.ts';
import { CORNERS } from '../../core/corners.ts';

/**
 * A car on four springs written a second time, to plant causes in: absolute heights, spring forces from
 * their whole compression, masses at places, solved by a general-purpose library. It knows nothing of
 * signatures.
 */

export type Numbers = [number, number, number, number];

/** Everything that may change between two records. */
export interface TrueCar {
  readonly wheelbase: number;
  readonly tracks: readonly [number, number];
  readonly gravity: number;
  readonly rates: Numbers;
  /** Height of the spring's seat, free: raises the body. */
  readonly seats: Numbers;
  /** Force added to the spring's: gas of a damper. */
  readonly gas: Numbers;
  readonly bars: readonly [number, number];
  /** Force on the left wheel, and its opposite on the right. */
  readonly preload: readonly [number, number];
  /** Torsional stiffness, N·m/rad, and how far front is turned against rear without load. */
  readonly chassis: number;
  readonly bent: number;
  readonly pads: Numbers;
  readonly radii: Numbers;
  readonly masses: readonly { readonly mass: number; readonly x: number; readonly y: number }[];
  readonly cgHeight: number;
}

/** Loads of the pads, and what the body does: height of each axle's middle and its roll. */
interface Standing {
  readonly loads: Numbers;
  readonly middle: readonly [number, number];
  readonly roll: readonly [number, number];
}

/** A chassis stiff enough to be called rigid. */
export const RIGID = 1e10;

export const stand = (car: TrueCar): Standing => {
  const [front, rear] = car.tracks;
  // Unknowns: height of the front axle's middle, of the rear's, roll of the front, of the rear.
  const rows = [
    [1, 0, front / 2, 0],
    [1, 0, -front / 2, 0],
    [0, 1, 0, rear / 2],
    [0, 1, 0, -rear / 2],
  ];
  const stiffness = rows.map((_, i) =>
    rows.map((_unused, j) => {
      const bar = car.bars[i < 2 ? 0 : 1];
      if (i === j) return (car.rates[i] as number) + bar;
      return Math.floor(i / 2) === Math.floor(j / 2) ? -bar : 0;
    }),
  );
  const under = car.pads.map((pad, k) => pad + (car.radii[k] as number));
  const free = car.seats.map((seat, k) => {
    const preload = (k % 2 === 0 ? 1 : -1) * car.preload[k < 2 ? 0 : 1];
    return (car.rates[k] as number) * seat + (car.gas[k] as number) + preload;
  });
  const pushed = free.map(
    (force, i) =>
      force + (stiffness[i] as number[]).reduce((sum, k, j) => sum + k * (under[j] as number), 0),
  );
  const matrix = [0, 1, 2, 3].map((a) =>
    [0, 1, 2, 3].map((b) => {
      let sum = 0;
      rows.forEach((left, i) =>
        rows.forEach((right, j) => {
          sum += (left[a] as number) * (stiffness[i]?.[j] as number) * (right[b] as number);
        }),
      );
      return sum;
    }),
  );
  const right = [0, 1, 2, 3].map((a) =>
    rows.reduce((sum, row, i) => sum + (row[a] as number) * (pushed[i] as number), 0),
  );
  const add = (i: number, j: number, by: number): void => {
    (matrix[i] as number[])[j] = (matrix[i]?.[j] as number) + by;
  };
  add(2, 2, car.chassis);
  add(3, 3, car.chassis);
  add(2, 3, -car.chassis);
  add(3, 2, -car.chassis);
  right[2] = (right[2] as number) + car.chassis * car.bent;
  right[3] = (right[3] as number) - car.chassis * car.bent;
  for (const { mass, x, y } of car.masses) {
    const weight = mass * car.gravity;
    const back = -x / car.wheelbase;
    [1 - back, back, (1 - back) * y, back * y].forEach((share, a) => {
      right[a] = (right[a] as number) - weight * share;
    });
    // A body that leans carries its weight over by height times angle.
    const lean = weight * car.cgHeight;
    add(2, 2, -lean * (1 - back));
    add(3, 3, -lean * back);
    for (const [i, j, sign] of [
      [0, 0, 1],
      [1, 1, 1],
      [0, 1, -1],
      [1, 0, -1],
    ] as const)
      add(i, j, (-sign * lean) / car.wheelbase ** 2);
  }
  const solved = lusolve(matrix, right) as unknown as number[][];
  const q = solved.map((row) => row[0] as number);
  const compressed = rows.map(
    (row, i) =>
      (under[i] as number) - row.reduce((sum, entry, a) => sum + entry * (q[a] as number), 0),
  );
  const loads = free.map(
    (force, i) =>
      force +
      (stiffness[i] as number[]).reduce((sum, k, j) => sum + k * (compressed[j] as number), 0),
  );
  return {
    loads: loads as Numbers,
    middle: [q[0] as number, q[1] as number],
    roll: [q[2] as number, q[3] as number],
  };
};

/** What a record of it would hold without noise. */
export const recordOf = (
  car: TrueCar,
  items: readonly { readonly measures: Measures }[],
): readonly number[] => {
  const { loads, middle, roll } = stand(car);
  return items.map(({ measures }): number => {
    switch (measures.what) {
      case 'corner weight':
        return (loads[CORNERS.indexOf(measures.corner)] as number) / car.gravity;
      case 'ride height': {
        const back = -measures.x / car.wheelbase;
        const height = middle[0] + (middle[1] - middle[0]) * back;
        const rolled = roll[0] + (roll[1] - roll[0]) * back;
        const datum =
          measures.from === 'plane' ? 0 : (car.pads[CORNERS.indexOf(measures.from)] as number);
        return height + rolled * measures.y - datum;
      }
      case 'camber': {
        const k = CORNERS.indexOf(measures.corner);
        return (k % 2 === 0 ? -1 : 1) * (roll[k < 2 ? 0 : 1] as number);
      }
      case 'caster':
        return (middle[0] - middle[1]) / car.wheelbase;
      default:
        return 0;
    }
  });
};
