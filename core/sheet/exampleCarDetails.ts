import { perCorner } from '../corners.ts';
import type { CarAdjuster, CarDetails } from './carDetails.ts';

const PERCH: CarAdjuster = {
  kind: 'perch',
  pitches: [0.0015],
  motionRatio: null,
  stepsPerTurn: 8,
  countedIn: 'turns',
  underLoad: false,
  room: { up: 160, down: 160 },
};

/** The set-up of the invented car of the demonstration: every number made up. */
export const EXAMPLE_CAR_DETAILS: CarDetails = {
  adjusters: perCorner(() => PERCH),
  bars: {
    front: { dropLinkLever: 0.24, dropLinkPitch: 0.0025, dropLinkRatio: 0.8 },
    rear: null,
  },
  heightPoints: [
    { id: 'LF', name: 'left front floor', x: -0.35, y: 0.55, above: 0 },
    { id: 'RF', name: 'right front floor', x: -0.35, y: -0.55, above: 0 },
    { id: 'LR', name: 'left rear floor', x: -2.35, y: 0.5, above: 0 },
    { id: 'RR', name: 'right rear floor', x: -2.35, y: -0.5, above: 0 },
  ],
  setUpWheels: perCorner((corner) => ({
    radius: { value: corner === 'LF' || corner === 'RF' ? 0.33 : 0.345, u: 0.00005 },
    measuringDiameter: 0.457,
  })),
  tyres: perCorner((corner) => ({
    loadedRadius: { value: corner === 'LF' || corner === 'RF' ? 0.326 : 0.34, u: 0.0005 },
    pressure: 1.4e5,
    load: corner === 'LF' || corner === 'RF' ? 3050 : 3350,
    verticalRate: { value: 230e3, u: 10e3 },
    perPressure: null,
    measuringDiameter: 0.457,
  })),
  ballastPlaces: [
    { id: 'nose', name: 'nose box', x: 0.45, y: 0, z: 0.2, least: null, most: 20 },
    { id: 'floor', name: 'right of the seat', x: -1.3, y: -0.45, z: 0.12, least: null, most: 40 },
  ],
  fuelTank: { x: -1.9, y: 0, capacity: 0.09, density: 745 },
  driverPlace: { x: -1.35, y: 0.36 },
  ruleLimits: [
    { item: 'total', least: 1290, most: null },
    ...(['LF', 'RF'] as const).map((corner) => ({
      item: `camber.${corner}`,
      // Four degrees.
      least: (-4 * Math.PI) / 180,
      most: null,
    })),
    ...(['LF', 'RF', 'LR', 'RR'] as const).map((point) => ({
      item: `height.${point}`,
      least: 0.05,
      most: null,
    })),
  ],
  cross: 'RF+LR',
};
