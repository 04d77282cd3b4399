import type { Corner } from '../corners.ts';
import type { Car } from './car.ts';
import type { CarState } from './carState.ts';

/** Over which diameter a wheel's toe is read, metre, by the wheels that are on; null where it is not known. */
export const measuringDiameter = (
  { details }: Car,
  corner: Corner,
  { wheels }: Pick<CarState, 'wheels'>,
): number | null => {
  const { setUpWheels = null, tyres = null } = details ?? {};
  const found = wheels === 'tyres' ? tyres : (setUpWheels ?? tyres);
  return found?.[corner].measuringDiameter ?? null;
};
