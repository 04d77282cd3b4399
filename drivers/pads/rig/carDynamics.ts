import type { PerCorner } from '../../../core/corners.ts';
import { carNumbers, everyCorner, USUAL_DAMPING, type CarBuild } from './carBuild.ts';
import { integrateCar, type Attitude, type CarDynamics } from './carIntegrator.ts';

export { DROOP_TRAVEL, type CarDynamics } from './carIntegrator.ts';

/** The attitude on level pads, seats at their reference, bars off, the centre of gravity kept. */
const findReference = (build: CarBuild): Attitude => {
  const none: PerCorner<number> = everyCorner(0);
  const numbers = carNumbers({
    ...build,
    car: { ...build.car, cgHeight: null },
    bars: 'off',
    friction: none,
    relaxing: none,
    damping: USUAL_DAMPING,
  });
  const car = integrateCar(numbers, null);
  // A minute is enough for any car; one that stands still to a thousandth of a nanometre is there.
  for (let t = 0, still = 0; t < 60 && still < 0.5; t += car.step) {
    car.advance();
    still = car.speed() < 1e-12 ? still + car.step : 0;
  }
  return car.attitude();
};

/** Builds the car at its reference attitude, standing on the pads, jack away. */
export const createCarDynamics = (build: CarBuild): CarDynamics =>
  integrateCar(carNumbers(build), findReference(build));
