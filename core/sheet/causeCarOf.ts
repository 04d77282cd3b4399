import type { StandingCar, Supports } from '../adjust/statics.ts';
import type { CauseCar, MassPlace } from '../compare/causes/causeCar.ts';
import { perCorner } from '../corners.ts';
import type { Car } from './car.ts';

/** A relative doubt of the car's rates; common practice, no source. */
const RATE_UNCERTAINTY = 0.03;

const placesOf = ({ details }: Car): readonly MassPlace[] => [
  ...(details?.fuelTank
    ? [{ kind: 'fuel' as const, name: 'tank', x: details.fuelTank.x, y: details.fuelTank.y }]
    : []),
  ...(details?.driverPlace
    ? [{ kind: 'driver' as const, name: 'seat', ...details.driverPlace }]
    : []),
  ...(details?.ballastPlaces ?? []).map(({ name, x, y }) => ({
    kind: 'ballast' as const,
    name,
    x,
    y,
  })),
];

/** A car that was weighed, as the search for causes takes it. Camber gain and bump steer are not known. */
export const causeCarOf = (car: Car, standing: StandingCar, bars: Supports['bars']): CauseCar => {
  const wheels = car.details?.setUpWheels ?? null;
  return {
    standing,
    bars,
    places: placesOf(car),
    wheelRadii: wheels && perCorner((corner) => ({ ...wheels[corner].radius, dof: Infinity })),
    camberGain: null,
    bumpSteer: null,
    rateUncertainty: RATE_UNCERTAINTY,
  };
};
