import type { JointForces } from '../balance/propagate.ts';
import { perCorner, type PerCorner } from '../corners.ts';
import type { Car } from '../sheet/car.ts';
import { barPreload, type BarPreload, type BarWeighing } from './barPreload.ts';
import { frictionAsSeats } from './friction.ts';
import type { AdjustReading } from './reading.ts';
import { refused, type AdjustRefusal } from './refusal.ts';
import { statics, type StandingCar } from './statics.ts';
import { standingFrom } from './turnResponse.ts';

/** Doubt of a bar's rate from its data; common practice, no source. */
const RATE_DOUBT = 0.1;
const NONE: PerCorner<number> = { LF: 0, RF: 0, LR: 0, RR: 0 };

/** The loads of a reading with what friction may hold of them, as statics spreads it. */
const withFriction = (
  { loads, settled }: AdjustReading,
  standing: StandingCar,
  friction: number,
): JointForces => {
  const held = frictionAsSeats(
    perCorner(() => friction),
    standing.car.wheelRates,
    settled,
  );
  const at = (seats: PerCorner<number>): readonly number[] =>
    Object.values(statics(standing, { seats, pads: NONE, bars: 'off' }).loads);
  const level = at(NONE);
  const columns = (['LF', 'RF', 'LR', 'RR'] as const).map((corner, i) =>
    at({ ...NONE, [corner]: held[i] as number }).map((load, k) => load - (level[k] as number)),
  );
  return {
    ...loads,
    covariance: loads.covariance.map((value, index) =>
      columns.reduce(
        (sum, column) =>
          sum + (column[Math.floor(index / 4)] as number) * (column[index % 4] as number),
        value,
      ),
    ),
  };
};

/** Preload of a bar of this car, from settled readings with it off and on. See `barPreload`. */
export const barCheck = (input: {
  readonly car: Car;
  readonly off: AdjustReading;
  readonly on: AdjustReading;
  readonly axle: BarWeighing['axle'];
  readonly barEnd: BarWeighing['barEnd'];
  readonly otherBar: BarWeighing['otherBar'];
  /** Friction of a strut at the wheel, newton. */
  readonly friction: number;
}): BarPreload | AdjustRefusal => {
  const { car, off, on, axle, friction } = input;
  const standing = standingFrom(car, off.loads.values, off.gravity);
  if (!standing)
    return refused('no reading', 'The four loads do not make a standing car. Lower it and settle.');
  return barPreload({
    standing,
    axle,
    off: withFriction(off, standing, friction),
    on: withFriction(on, standing, friction),
    otherBar: input.otherBar,
    linkRatio: car.details?.bars[axle]?.dropLinkRatio ?? 0,
    rateDoubt: RATE_DOUBT,
    barEnd: input.barEnd,
  });
};
