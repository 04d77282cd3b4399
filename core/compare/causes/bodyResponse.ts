import { statics, type StandingCar, type Supports } from '../../adjust/statics.ts';
import { CORNERS, inOrder, type PerCorner } from '../../corners.ts';

/** Four numbers in the order LF, RF, LR, RR. */
export type FourOf = readonly [number, number, number, number];

const NONE: FourOf = [0, 0, 0, 0];

/** What a cause does to a standing car; up is positive, metre. */
export interface Action {
  /** Seats at the wheel: perch, spring, damper, bar preload as the seat that makes its force. */
  readonly seats: FourOf;
  readonly pads: FourOf;
  /** Change of the set-up wheels' radii. */
  readonly wheels: FourOf;
  /** Weight added, newton, as the wheel loads of a rigid body that carry it. */
  readonly weight: FourOf;
  /** How far the chassis itself is bent, at each corner, without load. */
  readonly bent: FourOf;
}

export const AT_REST: Action = {
  seats: NONE,
  pads: NONE,
  wheels: NONE,
  weight: NONE,
  bent: NONE,
};

/** How loads (N) and body answer an action; all relative to before. */
export interface Response {
  readonly loads: FourOf;
  /** Rise of the body over each wheel. */
  readonly rise: FourOf;
}

/** Four numbers, one for each corner. */
export const fourOf = (make: (index: 0 | 1 | 2 | 3) => number): FourOf => [
  make(0),
  make(1),
  make(2),
  make(3),
];

const spread = (values: FourOf): PerCorner<number> => ({
  LF: values[0],
  RF: values[1],
  LR: values[2],
  RR: values[3],
});

/**
 * Linear response of a car to what may have happened to it, from `statics`, whose loads and heights are
 * affine in seats and pads. A weight sits on its springs like seats that sink by weight over rate; a
 * chassis bent up at a corner finds the pad there, with spring and bar, that much lower.
 */
export const bodyResponse = (
  standing: StandingCar,
  bars: Supports['bars'],
): ((action: Action) => Response) => {
  const rates = inOrder(standing.car.wheelRates);
  const step = 1e-3;
  const level = spread(NONE);
  const base = statics(standing, { seats: level, pads: level, bars });
  const unit = (what: 'seats' | 'pads', index: number): { loads: FourOf; rise: FourOf } => {
    const raised = spread(fourOf((k) => (k === index ? step : 0)));
    const at = statics(standing, { seats: level, pads: level, bars, [what]: raised });
    const per = (after: PerCorner<number>, before: PerCorner<number>): FourOf =>
      fourOf((k) => (inOrder(after)[k] - inOrder(before)[k]) / step);
    return { loads: per(at.loads, base.loads), rise: per(at.rise, base.rise) };
  };
  const units = CORNERS.map((_, index) => ({
    seat: unit('seats', index),
    pad: unit('pads', index),
  }));
  return ({ seats, pads, wheels, weight, bent }) => {
    const seat = fourOf((k) => seats[k] - weight[k] / rates[k]);
    const pad = fourOf((k) => pads[k] + wheels[k] - bent[k]);
    const sum = (of: 'loads' | 'rise', k: 0 | 1 | 2 | 3): number =>
      units.reduce(
        (total, each, index) =>
          total +
          each.seat[of][k] * (seat[index] as number) +
          each.pad[of][k] * (pad[index] as number),
        0,
      );
    return {
      loads: fourOf((k) => sum('loads', k) + weight[k]),
      rise: fourOf((k) => sum('rise', k) + bent[k]),
    };
  };
};
