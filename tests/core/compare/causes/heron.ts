import { overWheel } from '../../../../core/adjust/heightPoint.ts';
import type { CauseCar, Measures } from '../../../../core/compare/causes/causeCar.ts';
import { CORNERS, type Corner } from '../../../../core/corners.ts';
import { EXAMPLE_CAR, EXAMPLE_CAR_MASS } from '../../../../core/sheet/car.ts';
import { kilogram, metre, STANDARD_GRAVITY } from '../../../../core/units.ts';

/** The invented car, bars off, rates and places made up. */
export const HERON: CauseCar = {
  standing: {
    car: { ...EXAMPLE_CAR, cgHeight: null },
    mass: kilogram(EXAMPLE_CAR_MASS.mass),
    frontShare: EXAMPLE_CAR_MASS.frontShare,
    cgLeft: metre(EXAMPLE_CAR_MASS.cgLeft),
    gravity: STANDARD_GRAVITY,
  },
  bars: 'off',
  places: [
    { kind: 'fuel', name: 'tank', x: -1.7, y: 0 },
    { kind: 'ballast', name: 'nose', x: 0.4, y: 0 },
    { kind: 'ballast', name: 'boot', x: -2.9, y: 0.2 },
    { kind: 'driver', name: 'seat', x: -1.3, y: 0.35 },
  ],
  wheelRadii: null,
  camberGain: null,
  bumpSteer: null,
  rateUncertainty: 0.03,
};

/** Four corner weights, heights over the wheels, cambers and toes, with the u of a change. */
export const heronItems = (from: 'plane' | 'pads' | 'none') => {
  const each = (what: 'corner weight' | 'camber' | 'toe', u: number) =>
    CORNERS.map((corner) => ({
      id: `${what} ${corner}`,
      measures: { what, corner } as Measures,
      u,
    }));
  const height = (corner: Corner) => ({
    id: `height ${corner}`,
    measures: {
      what: 'ride height',
      ...overWheel(EXAMPLE_CAR, corner),
      from: from === 'plane' ? 'plane' : corner,
    } as Measures,
    u: 0.0002,
  });
  return [
    ...each('corner weight', 0.15),
    ...(from === 'none' ? [] : CORNERS.map(height)),
    ...each('camber', 0.0006),
    ...each('toe', 0.0003),
  ];
};
