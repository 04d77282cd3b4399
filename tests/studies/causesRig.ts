import type { CauseCar, MassPlace, Measures } from '../../core/compare/causes/causeCar.ts';
import { CORNERS, perCorner, type Corner } from '../../core/corners.ts';
import { measured } from '../../core/measured.ts';
import { EXAMPLE_CAR } from '../../core/sheet/car.ts';
import { kilogram, metre, metrePerSecond2 } from '../../core/units.ts';
import type { Random } from '../../drivers/pads/rig/random.ts';
import { recordOf, RIGID, type Numbers, type TrueCar } from './causesCar.ts';

export interface RigItem {
  readonly id: string;
  readonly measures: Measures;
  /** Standard deviation of the gauge or the pad itself, one reading. */
  readonly own: number;
}

/** A rig car: the truth, what the crew believes of it, what they measure and how well. */
export interface RigCar {
  readonly truth: TrueCar;
  readonly believed: CauseCar;
  readonly items: readonly RigItem[];
  /** Seat height that friction leaves at each strut, standard deviation of one lowering. */
  readonly friction: number;
}

const DEGREE = Math.PI / 180;

/** A car as chance makes it, with the rates believed a few per cent off. */
export const rigCar = (random: Random, heights: 'all' | 'none'): RigCar => {
  const { between } = random;
  const coin = (): boolean => random.uniform() < 0.5;
  const [wheelbase, front, rear] = [between(2.3, 3.1), between(1.4, 1.75), between(1.4, 1.75)];
  const nominal = perCorner(() => between(100e3, 240e3));
  const common = 1 + 0.03 * random.normal();
  const rates = CORNERS.map((c) => nominal[c] * common * (1 + 0.01 * random.normal())) as Numbers;
  const bars: readonly [number, number] = [between(20e3, 90e3), coin() ? between(10e3, 60e3) : 0];
  const isOn = coin();
  const stiffness = coin() ? null : between(5e5, 3e6);
  const gravity = between(9.78, 9.83);
  const mass = between(700, 1500);
  const [share, left] = [between(0.42, 0.56), between(-0.02, 0.02)];
  const places: readonly MassPlace[] = [
    { kind: 'fuel', name: 'tank', x: -between(1.3, 2), y: between(-0.1, 0.1) },
    { kind: 'ballast', name: 'front', x: -between(0, 0.6), y: between(-0.2, 0.2) },
    { kind: 'ballast', name: 'rear', x: -between(2.2, 2.8), y: between(-0.3, 0.3) },
    { kind: 'driver', name: 'seat', x: -between(1, 1.6), y: between(-0.4, 0.4) },
  ];
  const radii = CORNERS.map(() => 0.3 + 0.0003 * random.normal()) as Numbers;
  const cgHeight = between(0.3, 0.5);
  const truth: TrueCar = {
    wheelbase,
    tracks: [front, rear],
    gravity,
    rates,
    seats: [0, 0, 0, 0],
    gas: [0, 0, 0, 0],
    bars: isOn ? [bars[0] * common, bars[1] * common] : [0, 0],
    preload: [0, 0],
    chassis: stiffness === null ? RIGID : stiffness * common,
    bent: 0,
    pads: [0, 0, 0, 0],
    radii,
    masses: [{ mass, x: -wheelbase * (1 - share), y: left }],
    cgHeight,
  };
  const radiusU = 0.00005;
  const believed: CauseCar = {
    standing: {
      car: {
        ...EXAMPLE_CAR,
        wheelbase,
        trackFront: front,
        trackRear: rear,
        cgHeight,
        wheelRates: nominal,
        barFront: bars[0],
        barRear: bars[1],
        chassisStiffness: stiffness,
      },
      mass: kilogram(mass),
      frontShare: share,
      cgLeft: metre(left),
      gravity: metrePerSecond2(gravity),
    },
    bars: isOn ? 'on' : 'off',
    places,
    wheelRadii: coin()
      ? perCorner((_, k) =>
          measured((radii[k] as number) + radiusU * random.normal(), radiusU, Infinity),
        )
      : null,
    camberGain: null,
    bumpSteer: null,
    rateUncertainty: 0.03,
  };
  const own = {
    weight: between(0.04, 0.12),
    height: between(0.0001, 0.0003),
    camber: between(0.02, 0.05) * DEGREE,
    toe: between(0.01, 0.025) * DEGREE,
    caster: between(0.08, 0.15) * DEGREE,
  };
  const isFromPads = coin();
  const point = (corner: Corner): Measures => ({
    what: 'ride height',
    name: corner,
    x: corner.endsWith('F') ? between(-0.3, 0.3) : -wheelbase + between(-0.2, 0.4),
    y: (corner.startsWith('L') ? 1 : -1) * between(0.45, 0.8),
    from: isFromPads ? corner : 'plane',
  });
  const each = (what: 'corner weight' | 'camber' | 'toe', sd: number): readonly RigItem[] =>
    CORNERS.map((corner) => ({ id: `${what} ${corner}`, measures: { what, corner }, own: sd }));
  return {
    truth,
    believed,
    friction: between(0.00002, 0.00007),
    items: [
      ...each('corner weight', own.weight),
      ...(heights === 'none'
        ? []
        : CORNERS.map((corner) => ({
            id: `height ${corner}`,
            measures: point(corner),
            own: own.height,
          }))),
      ...each('camber', own.camber),
      ...each('toe', own.toe),
      ...(['LF', 'RF'] as const).map((corner) => ({
        id: `caster ${corner}`,
        measures: { what: 'caster' as const, corner },
        own: own.caster,
      })),
    ],
  };
};

/** One lowering as friction leaves the struts. */
export const lowered = (rig: RigCar, car: TrueCar, random: Random): TrueCar => ({
  ...car,
  seats: car.seats.map((seat) => seat + rig.friction * random.normal()) as Numbers,
});

/** Covariance of one record: friction through the believed car's own response, and each gauge's own. */
export const scatterOf = (rig: RigCar): readonly (readonly number[])[] => {
  const still = recordOf(rig.truth, rig.items);
  const byFriction = CORNERS.map((_, k) => {
    const seats = rig.truth.seats.map((seat, index) =>
      index === k ? seat + rig.friction : seat,
    ) as Numbers;
    return recordOf({ ...rig.truth, seats }, rig.items).map(
      (value, index) => value - (still[index] as number),
    );
  });
  return rig.items.map(({ own }, i) =>
    rig.items.map((_, j) =>
      byFriction.reduce(
        (sum, pattern) => sum + (pattern[i] as number) * (pattern[j] as number),
        i === j ? own ** 2 : 0,
      ),
    ),
  );
};
