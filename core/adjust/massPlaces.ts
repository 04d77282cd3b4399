import type { Car } from '../sheet/car.ts';

/** Where mass may be put in or taken out, for a what-if. */
export interface MassPlace {
  readonly id: string;
  readonly name: string;
  readonly x: number;
  readonly y: number;
  readonly z: number;
  /** Most that is asked about either way, kg. */
  readonly most: number;
}

/** Where nothing limits it, kg; ours, no source. */
const MOST_BALLAST = 50;
const MOST_DRIVER = 40;

/**
 * Ballast places, fuel and driver of a car. Fuel and driver have no height in its data: they are taken
 * at that of the centre of gravity, so that they do not move it; without one heights do not count.
 */
export const massPlaces = ({ details, cgHeight }: Car): readonly MassPlace[] => {
  if (!details) return [];
  const z = cgHeight ?? 0;
  const { fuelTank: tank, driverPlace: seat } = details;
  return [
    ...details.ballastPlaces.map(({ id, name, x, y, z: height, most }) => ({
      id: `ballast ${id}`,
      name: `Ballast, ${name}`,
      x,
      y,
      z: height,
      most: most ?? MOST_BALLAST,
    })),
    ...(tank
      ? [
          {
            id: 'fuel',
            name: 'Fuel',
            x: tank.x,
            y: tank.y,
            z,
            most: Math.round(tank.capacity * tank.density),
          },
        ]
      : []),
    ...(seat ? [{ id: 'driver', name: 'Driver', x: seat.x, y: seat.y, z, most: MOST_DRIVER }] : []),
  ];
};
