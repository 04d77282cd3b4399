import { perchesOf, type Adjusters } from '../../../core/adjust/adjuster.ts';
import { overWheels } from '../../../core/adjust/heightPoint.ts';
import type { AdjustReading } from '../../../core/adjust/reading.ts';
import { statics, type StandingCar, type Supports } from '../../../core/adjust/statics.ts';
import type { Targets } from '../../../core/adjust/targets.ts';
import { sheetResponse, type TurnResponse } from '../../../core/adjust/turnResponse.ts';
import { inOrder, perCorner, type PerCorner } from '../../../core/corners.ts';
import { measured } from '../../../core/measured.ts';
import { EXAMPLE_CAR, EXAMPLE_CAR_MASS, type Car } from '../../../core/sheet/car.ts';
import type { CarAdjuster } from '../../../core/sheet/carDetails.ts';
import { EXAMPLE_CAR_DETAILS } from '../../../core/sheet/exampleCarDetails.ts';
import { kilogram, metre, STANDARD_GRAVITY } from '../../../core/units.ts';

/** The example car of the design, without a height of its centre of gravity unless asked for. */
export const FLAT_CAR: Car = { ...EXAMPLE_CAR, cgHeight: null };
export const NONE: PerCorner<number> = { LF: 0, RF: 0, LR: 0, RR: 0 };
export const HEIGHT = 0.06;

export const standingCar = (car: Car = FLAT_CAR): StandingCar => ({
  car,
  mass: kilogram(EXAMPLE_CAR_MASS.mass),
  frontShare: EXAMPLE_CAR_MASS.frontShare,
  cgLeft: metre(EXAMPLE_CAR_MASS.cgLeft),
  gravity: STANDARD_GRAVITY,
});

export const sixths = (car: Car = FLAT_CAR): Adjusters =>
  perchesOf(car, { stepsPerTurn: 6, countedIn: 'turns', underLoad: true });

export const responseOf = (
  car: Car = FLAT_CAR,
  adjusters: Adjusters = sixths(car),
  bars: Supports['bars'] = 'off',
): TurnResponse => {
  const made = sheetResponse(standingCar(car), adjusters, bars);
  if (!made.ok) throw new Error(made.why);
  return made.response;
};

/** A settled reading of a car with its seats so, heights over the wheels exact but for their u. */
export const readingAt = (
  seats: PerCorner<number>,
  {
    car = FLAT_CAR,
    loadU = 0.2,
    heightU = 5e-5,
    bars = 'off',
  }: {
    readonly car?: Car;
    readonly loadU?: number;
    readonly heightU?: number;
    readonly bars?: Supports['bars'];
  } = {},
): AdjustReading => {
  const { loads, rise } = statics(standingCar(car), { seats, pads: NONE, bars });
  return {
    loads: {
      values: inOrder(loads),
      covariance: Array.from({ length: 16 }, (_, i) => (i % 5 === 0 ? loadU ** 2 : 0)),
      dof: [60, 60, 60, 60],
    },
    gravity: STANDARD_GRAVITY,
    heights: inOrder(rise).map((value) => measured(HEIGHT + value, heightU, 20)),
    settled: 'bounced',
  };
};

export const targetsOf = (change: Partial<Targets> = {}): Targets => ({
  diagonal: 'RF+LR',
  cross: { target: 0.5, tolerance: 1e-3 },
  cornerWeights: { LF: null, RF: null, LR: null, RR: null },
  heights: overWheels(FLAT_CAR).map((point) => ({ point, target: HEIGHT, tolerance: 3e-4 })),
  total: null,
  frontShare: null,
  leftShare: null,
  ...change,
});

export const FRICTION = perCorner(() => 20);

/** Perches of 1.5 mm a turn, turned under load in sixths. */
export const SIXTHS: CarAdjuster = {
  kind: 'perch',
  pitches: [0.0015],
  motionRatio: null,
  stepsPerTurn: 6,
  countedIn: 'turns',
  underLoad: true,
  room: null,
};
/** A car with this adjuster at every corner. */
export const carWith = (adjuster: CarAdjuster | null): Car => ({
  ...FLAT_CAR,
  details: { ...EXAMPLE_CAR_DETAILS, adjusters: perCorner(() => adjuster) },
});
