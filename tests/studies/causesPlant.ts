import type { CauseWhat } from '../../core/compare/causes/cause.ts';
import type { MassPlace } from '../../core/compare/causes/causeCar.ts';
import { CORNERS, type Corner } from '../../core/corners.ts';
import type { Random } from '../../drivers/pads/rig/random.ts';
import { recordOf, stand, type Numbers, type TrueCar } from './causesCar.ts';
import { lowered, type RigCar, type RigItem } from './causesRig.ts';

/** What a planted cause makes of the car, and what it adds to readings by itself. */
export interface Planted {
  readonly car: TrueCar;
  readonly added: Readonly<Record<string, number>>;
}

const CORNER_KINDS = ['strut', 'pad height', 'wheel', 'pad', 'toe link', 'camber shim'] as const;

const bumped = (values: Numbers, corner: Corner, by: number): Numbers =>
  values.map((value, k) => (CORNERS[k] === corner ? value + by : value)) as Numbers;

/**
 * Plants a cause of a size (unit as of `CauseWhat`) in the true car. A strut is, as `how` says, a seat
 * turned, a spring of another rate, or gas in a damper; a pad's fault is of its zero or of its span.
 */
export const plant = (
  { truth, items }: RigCar,
  what: CauseWhat,
  size: number,
  how: number,
): Planted => {
  const alone = (id: string): Planted => ({ car: truth, added: { [id]: size } });
  const having = (changed: Partial<TrueCar>): Planted => ({
    car: { ...truth, ...changed },
    added: {},
  });
  const more = (mass: number, x: number, y: number) => ({ mass, x, y });
  switch (what.kind) {
    case 'strut': {
      const k = CORNERS.indexOf(what.corner);
      const rate = truth.rates[k] as number;
      const load = stand(truth).loads[k] as number;
      if (how % 3 === 0) return having({ seats: bumped(truth.seats, what.corner, size) });
      if (how % 3 === 1) return having({ gas: bumped(truth.gas, what.corner, size * rate) });
      // A spring softer by a share sinks as a seat does by that share of its compression.
      return having({ rates: bumped(truth.rates, what.corner, (rate * size * rate) / load) });
    }
    case 'pad height':
      return having({ pads: bumped(truth.pads, what.corner, size) });
    case 'wheel':
      return having({ radii: bumped(truth.radii, what.corner, size) });
    case 'wheels exchanged': {
      const [a, b] = [CORNERS.indexOf(what.one), CORNERS.indexOf(what.other)];
      const swapped = [...truth.radii] as Numbers;
      [swapped[a], swapped[b]] = [truth.radii[b] as number, truth.radii[a] as number];
      return having({ radii: swapped });
    }
    case 'bar': {
      const force = size * truth.gravity;
      return having({ preload: what.axle === 'front' ? [force, 0] : [0, force] });
    }
    case 'twist':
      return having({ bent: size / truth.tracks[0] });
    case 'mass':
      return having({ masses: [...truth.masses, more(size, what.place.x, what.place.y)] });
    case 'ballast moved':
      return having({
        masses: [
          ...truth.masses,
          more(size, what.to.x, what.to.y),
          more(-size, what.from.x, what.from.y),
        ],
      });
    case 'mass along':
      // Ten kilograms by a tenth of the size, somewhere in the car.
      return having({
        masses: [...truth.masses, more(10, -1.2 + size / 10, 0.1), more(-10, -1.2, 0.1)],
      });
    case 'mass across':
      return having({
        masses: [...truth.masses, more(10, -1.2, 0.1 + size / 10), more(-10, -1.2, 0.1)],
      });
    case 'pad':
      return alone(`corner weight ${what.corner}`);
    case 'toe link':
      return alone(`toe ${what.corner}`);
    case 'camber shim':
      return alone(`camber ${what.corner}`);
    case 'height point':
      if (!items.some(({ id }) => id === what.item)) throw new RangeError(`no item ${what.item}`);
      return alone(what.item);
  }
};

/** A cause drawn at random from those that this car can have, kinds alike. */
export const drawCause = ({ believed, items }: RigCar, random: Random): CauseWhat => {
  const pick = <T>(list: readonly T[]): T => list[Math.floor(random.uniform() * list.length)] as T;
  const corner = pick(CORNERS);
  const others = CORNERS.filter((each) => each !== corner);
  const heights = items.filter(({ measures }) => measures.what === 'ride height');
  const ballast = believed.places.filter(({ kind }) => kind === 'ballast');
  const [from, to] = ballast as [MassPlace, MassPlace];
  const { barRear } = believed.standing.car;
  const axle = barRear > 0 && random.uniform() < 0.5 ? 'rear' : 'front';
  const all: readonly CauseWhat[] = [
    ...CORNER_KINDS.map((kind): CauseWhat => ({ kind, corner })),
    // A strut has three ways to go.
    { kind: 'strut', corner },
    { kind: 'strut', corner },
    ...(believed.bars === 'on' ? [{ kind: 'bar', axle } as const] : []),
    { kind: 'twist' },
    ...believed.places.map((place): CauseWhat => ({ kind: 'mass', place })),
    { kind: 'ballast moved', from, to },
    { kind: 'mass along' },
    { kind: 'mass across' },
    ...(believed.wheelRadii
      ? [{ kind: 'wheels exchanged', one: corner, other: pick(others) } as const]
      : []),
    ...(heights.length > 0
      ? [{ kind: 'height point', item: pick(heights).id, name: corner } as const]
      : []),
  ];
  const drawn = pick(all);
  // Pairs of wheels are listed in the order of the corners.
  if (drawn.kind !== 'wheels exchanged') return drawn;
  const [one, other] = CORNERS.filter((c) => c === drawn.one || c === drawn.other) as [
    Corner,
    Corner,
  ];
  return { ...drawn, one, other };
};

/** One record of a car: lowered once, every gauge and pad with its own noise. */
export const readOnce = (rig: RigCar, car: TrueCar, random: Random): readonly number[] =>
  recordOf(lowered(rig, car, random), rig.items).map(
    (value, k) => value + (rig.items[k] as RigItem).own * random.normal(),
  );

/** Change between two records, each lowered once, of the car as it was and with a cause planted. */
export const changeBetween = (
  rig: RigCar,
  planted: readonly Planted[],
  after: TrueCar,
  random: Random,
): readonly number[] => {
  const was = readOnce(rig, rig.truth, random);
  const now = readOnce(rig, after, random);
  return rig.items.map(({ id }, k) =>
    planted.reduce(
      (sum, { added }) => sum + (added[id] ?? 0),
      (now[k] as number) - (was[k] as number),
    ),
  );
};
