import { perCorner } from '../corners.ts';
import type { CarDetails } from './carDetails.ts';

/** Details of a car of which nothing beyond its balance is known yet. */
export const BLANK_CAR_DETAILS: CarDetails = {
  adjusters: perCorner(() => null),
  bars: { front: null, rear: null },
  heightPoints: [],
  setUpWheels: null,
  tyres: null,
  ballastPlaces: [],
  fuelTank: null,
  driverPlace: null,
  ruleLimits: [],
  cross: null,
};
