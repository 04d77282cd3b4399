import { camber } from '../alignment/camber.ts';
import { casterSweep, type SweepEnd } from '../alignment/casterSweep.ts';
import { inclinationByLevel } from '../alignment/inclinationByLevel.ts';
import { found, refused, type Outcome } from '../alignment/outcome.ts';
import { rackCentre } from '../alignment/rackCentre.ts';
import { toe } from '../alignment/toe.ts';
import { perCorner } from '../corners.ts';
import { measured, type Measured } from '../measured.ts';
import { fromResolution } from '../uncertainty/standardUncertainty.ts';
import type { Car } from './car.ts';
import type { Datum, Gauge } from './carRecord.ts';
import type { CarState } from './carState.ts';
import { sideOf, type Item } from './items.ts';
import { measuringDiameter } from './measuringDiameter.ts';
import { squarenessOf, type Strings } from './strings.ts';
import type { Way } from './ways.ts';

/** What an item is computed of. */
export interface ToCompute {
  readonly item: Item;
  readonly way: Way;
  /** SI, by the names of the way's fields. */
  readonly parts: Readonly<Record<string, number>>;
  /** What the parts were read with. */
  readonly gauge: Gauge;
  readonly datum: Datum | null;
  readonly car: Car;
  readonly state: Pick<CarState, 'wheels'>;
  readonly strings: Strings | null;
  /** The car was raised, rolled or lowered since the strings were squared to it. */
  readonly movedSinceSquared: boolean;
  /** What the record says of another item; null where nothing. */
  readonly known: (item: string) => Measured | null;
}

/** Values of one or two items that were computed together. */
export type Computed = Outcome<readonly { readonly item: string; readonly value: Measured }[]>;

/** A turn plate is read to a quarter of a degree; common practice, no source. */
const TURN_PLATE = fromResolution((0.25 * Math.PI) / 180);
/** The travel of the rack for which its steer is asked, metre. */
const RACK_TRAVEL = 0.01;

const one = (item: Item, outcome: Outcome<Measured>): Computed =>
  outcome.ok ? found([{ item: item.id, value: outcome.result }], outcome.warnings) : outcome;

/**
 * Scatter of a gauge alone: all ways take differences of readings of one gauge, in which what its
 * readings share cancels.
 */
const reader =
  ({ scatter, resolution }: Gauge) =>
  (value: number): Measured => {
    const step = fromResolution(resolution);
    return scatter && scatter.u > step
      ? measured(value, scatter.u, scatter.dof)
      : measured(value, step, Infinity);
  };

const byString = (about: ToCompute, read: (value: number) => Measured): Computed => {
  const { item, parts, car, state, strings, datum } = about;
  const { corner } = item;
  const diameter = corner && measuringDiameter(car, corner, state);
  if (!corner || diameter === null)
    return refused(
      'The diameter between the edges of the wheel is not known.',
      'Give the measuring diameter with the wheels of the car.',
    );
  const squareness = strings && squarenessOf(strings, read);
  if (!squareness)
    return refused(
      'Nothing says how the strings stand to the car.',
      'Type what the strings were squared to, beside this field; once for all wheels.',
    );
  const at = (what: string): number => parts[what] ?? Number.NaN;
  const isTurned = about.way === 'string, wheel rolled half a turn';
  const wheel = {
    diameter,
    front: read(at('front of the rim')),
    rear: read(at('rear of the rim')),
    halfTurn: isTurned
      ? {
          front: read(at('front, rolled half a turn')),
          rear: read(at('rear, rolled half a turn')),
        }
      : null,
  };
  const outcome = toe({
    wheels: perCorner((each) => (each === corner ? wheel : null)),
    strings: squareness,
    box: datum === 'string on the ground' ? 'on the ground' : 'on the car',
    movedSinceSquared: about.movedSinceSquared,
  });
  if (!outcome.ok) return outcome;
  const value = outcome.result.wheels[corner];
  return value
    ? found([{ item: item.id, value }], outcome.warnings)
    : refused(
        'The car moved since the strings were squared to it: only the sum of both wheels would hold.',
        'Square the strings again and read both wheels.',
      );
};

const bySweep = (about: ToCompute, read: (value: number) => Measured): Computed => {
  const { item, parts } = about;
  const at = (what: string): number => parts[what] ?? Number.NaN;
  const end = (way: 'out' | 'in'): SweepEnd => ({
    steer: measured(at(`turned ${way} by`), TURN_PLATE, Infinity),
    camber: read(at(`camber turned ${way}`)),
  });
  const [straightCamber, straightToe] = [
    parts['camber straight ahead'],
    parts['toe straight ahead'],
  ];
  const camberKnown =
    straightCamber === undefined ? about.known(`camber.${item.corner}`) : read(straightCamber);
  const toeKnown =
    straightToe === undefined ? about.known(`toe.${item.corner}`) : read(straightToe);
  const outcome = casterSweep({
    toedOut: end('out'),
    toedIn: end('in'),
    straight: camberKnown && toeKnown ? { camber: camberKnown, toe: toeKnown } : null,
  });
  if (!outcome.ok) return outcome;
  const { caster, inclination } = outcome.result;
  return found(
    [
      { item: item.id, value: caster },
      ...(inclination ? [{ item: `steeringAxis.${item.corner}`, value: inclination }] : []),
    ],
    outcome.warnings,
  );
};

const byLevel = (about: ToCompute, read: (value: number) => Measured): Computed => {
  const { item, parts, known } = about;
  const [caster, camberAt, toeAt] = ['caster', 'camber', 'toe'].map((kind) =>
    known(`${kind}.${item.corner}`),
  );
  if (!caster || !camberAt || !toeAt)
    return refused(
      'Caster, camber and toe of this wheel are needed for it.',
      'Measure them first; the walk has them before.',
    );
  const at = (what: string): number => parts[what] ?? Number.NaN;
  const end = (way: 'out' | 'in') => ({
    steer: measured(at(`turned ${way} by`), TURN_PLATE, Infinity),
    level: read(at(`level turned ${way}`)),
  });
  return one(
    item,
    inclinationByLevel({
      toedOut: end('out'),
      toedIn: end('in'),
      brakeHeld: true,
      caster,
      straight: { camber: camberAt, toe: toeAt },
    }),
  );
};

/**
 * The value of an item from the readings of a way, with its uncertainty; refused with what to do. A
 * caster sweep with the wheel straight ahead gives the steering axis too.
 */
export const computedReading = (about: ToCompute): Computed => {
  const { item, way, parts, gauge, datum } = about;
  const read = reader(gauge);
  const at = (what: string): number => parts[what] ?? Number.NaN;
  switch (way) {
    case 'as read':
      return refused('It is typed as it is read.', 'Type it.');
    case 'gauge turned round':
    case 'gauge and its zero': {
      const isTurned = way === 'gauge turned round';
      const outcome = camber({
        side: item.corner ? sideOf(item.corner) : 'left',
        reading: read(at('reading')),
        turned: isTurned ? read(at('turned round')) : null,
        zero: isTurned ? null : read(at('zero of the gauge')),
        datum: datum === 'patch' ? 'patch' : 'gravity',
        slope: null,
      });
      return outcome.ok
        ? found([{ item: item.id, value: outcome.result.camber }], outcome.warnings)
        : outcome;
    }
    case 'string':
    case 'string, wheel rolled half a turn':
      return byString(about, read);
    case 'sweep':
      return bySweep(about, read);
    case 'level along the wheel':
      return byLevel(about, read);
    case 'tie rods':
      return one(
        item,
        rackCentre({
          by: 'rods',
          rods: { left: read(at('left rod')), right: read(at('right rod')) },
        }),
      );
    case 'locks, rack ahead of the axle':
    case 'locks, rack behind the axle': {
      const turn = (value: number): Measured => measured(value, TURN_PLATE, Infinity);
      return one(
        item,
        rackCentre({
          by: 'locks',
          locks: {
            left: turn(at('left wheel at left lock')),
            right: turn(at('right wheel at right lock')),
          },
          perTravel: measured(
            at('steer for 10 mm of rack') / RACK_TRAVEL,
            TURN_PLATE / RACK_TRAVEL,
            Infinity,
          ),
          rack: way === 'locks, rack ahead of the axle' ? 'ahead' : 'behind',
        }),
      );
    }
  }
};
