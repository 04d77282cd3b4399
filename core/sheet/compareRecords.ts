import type { StandingCar } from '../adjust/statics.ts';
import { compareAnswer, type CompareAnswer } from '../answers/compareAnswer.ts';
import { causes, type Causes } from '../compare/causes/causes.ts';
import type { Wording } from '../compare/causes/causeWords.ts';
import type { ChangeNoise } from '../compare/changeNoise.ts';
import { compareItems, type Comparison } from '../compare/compareItems.ts';
import type { ComparedItem, DerivedItem } from '../compare/comparisonInput.ts';
import type { LoweringScatter } from '../compare/repeatabilityLowering.ts';
import { CORNERS } from '../corners.ts';
import { kilogram, metre, metrePerSecond2 } from '../units.ts';
import { measuresOf } from './bodyEffect.ts';
import { comparableStates, type ComparedStates } from './comparableStates.ts';
import type { Item } from './items.ts';
import { itemValue, type ItemValue, type ValueSources } from './itemValue.ts';
import { lineOf, type SetUpSheet } from './setUpSheet.ts';
import { throughTie } from './ties.ts';
import type { Car } from './car.ts';

/** What two records are compared with. */
export interface RecordsCompared {
  readonly car: Car;
  readonly before: ValueSources;
  readonly after: ValueSources;
  /** Whose tolerances are the smallest changes worth acting on; null takes the finest that can be seen. */
  readonly sheet: SetUpSheet | null;
  /** Scatter of lowering the unchanged car, from a study; null without one. */
  readonly repeat: LoweringScatter | null;
  /** What laying the patch again adds, likewise; null while no study told it. */
  readonly laying: LoweringScatter | null;
  readonly gravity: number;
  readonly wording: Wording;
}

export interface RecordComparison {
  readonly states: ComparedStates;
  /** Null where the records are not compared at all. */
  readonly comparison: Comparison | null;
  readonly causes: Causes | null;
  readonly answer: CompareAnswer;
}

type Read = Extract<ItemValue, { readonly is: 'measured' }>;

/** A relative doubt of the car's rates; common practice, no source. */
const RATE_UNCERTAINTY = 0.03;

const read = (id: string, sources: ValueSources): Read | null => {
  const value = itemValue(id, sources);
  return value.is === 'measured' ? value : null;
};

/** Variance of one reading of an item: the larger that the two records show. */
const oneReading = (before: Read | null, after: Read | null): { u2: number; dof: number } => {
  const each = [before, after].flatMap((value) =>
    value ? [{ u2: value.scatter.u ** 2 * value.count, dof: value.scatter.dof }] : [],
  );
  const [first, second] = each;
  if (!first) return { u2: Number.NaN, dof: 1 };
  return second && second.u2 > first.u2 ? second : first;
};

/** Variance that two readings do not share: errors of gauges that only one of them was read with. */
const unsharedOf = (before: Read | null, after: Read | null): number => {
  if (!before || !after) return 0;
  const gauges = new Set([...before.shared.keys(), ...after.shared.keys()]);
  let sum = 0;
  for (const gauge of gauges) {
    const [one, other] = [before.shared.get(gauge), after.shared.get(gauge)];
    // The same gauge is wrong by the same in both.
    if (!one || !other) sum += (one?.u ?? other?.u ?? 0) ** 2;
  }
  return sum;
};

const weightIndex = (item: Item): number => (item.corner ? CORNERS.indexOf(item.corner) : -1);

const noiseOf = (
  items: readonly Item[],
  values: readonly { readonly before: Read | null; readonly after: Read | null }[],
  { repeat, laying }: Pick<RecordsCompared, 'repeat' | 'laying'>,
  relaid: boolean,
): ChangeNoise => {
  const weights = (scatter: LoweringScatter | null, i: number, j: number): number | null => {
    const [one, other] = [items[i] as Item, items[j] as Item];
    if (one.kind !== 'weight' || other.kind !== 'weight') return null;
    return scatter?.covariance[4 * weightIndex(one) + weightIndex(other)] ?? Number.NaN;
  };
  const single = values.map(({ before, after }) => oneReading(before, after));
  const square = (make: (i: number, j: number) => number) =>
    items.map((_, i) => items.map((_unused, j) => make(i, j)));
  return {
    repeat: {
      covariance: square(
        (i, j) => weights(repeat, i, j) ?? (i === j ? (single[i]?.u2 ?? Number.NaN) : 0),
      ),
      dof: items.map((item, i) =>
        item.kind === 'weight' ? (repeat?.dof ?? 1) : (single[i]?.dof ?? 1),
      ),
    },
    laying: relaid
      ? {
          covariance: square((i, j) => weights(laying, i, j) ?? 0),
          dof: items.map(() => laying?.dof ?? 1),
        }
      : null,
    unshared: square((i, j) => {
      const at = values[i];
      return i === j && at ? unsharedOf(at.before, at.after) : 0;
    }),
    readings: values.map(({ before, after }) => ({
      before: Math.max(1, before?.count ?? 1),
      after: Math.max(1, after?.count ?? 1),
    })),
  };
};

/** The car as the earlier record found it; null where it was not weighed. */
const standingOf = ({ car, before, gravity }: RecordsCompared): StandingCar | null => {
  const weights = CORNERS.flatMap((corner) => {
    const weight = read(`weight.${corner}`, before);
    return weight ? [weight.value.value] : [];
  });
  const [lf, rf, lr, rr] = weights;
  if (lf === undefined || rf === undefined || lr === undefined || rr === undefined) return null;
  const mass = lf + rf + lr + rr;
  if (!(mass > 0)) return null;
  const left = ((lf - rf) * car.trackFront + (lr - rr) * car.trackRear) / (2 * mass);
  return {
    car,
    mass: kilogram(mass),
    frontShare: (lf + rf) / mass,
    cgLeft: metre(left),
    gravity: metrePerSecond2(gravity),
  };
};

const NOT_COMPARED = (why: string): CompareAnswer => ({
  about: 'not comparable',
  text: `Cannot be compared. ${why}`,
  tone: 'wait',
  why: [],
});

/**
 * Has the car changed between two records? Their states are held against each other first; what is
 * known of (fuel burnt, ballast, driver) is taken out; each item is judged; and what explains the whole
 * pattern is looked for where the car was weighed both times. Corner weights need a study of lowerings:
 * without one nothing says what an unchanged car does.
 */
export const compareRecords = (input: RecordsCompared): RecordComparison => {
  const { car, before, after, sheet, wording } = input;
  const standing = standingOf(input);
  const states = comparableStates({ car, before, after, standing });
  if (states.notComparable !== null)
    return { states, comparison: null, causes: null, answer: NOT_COMPARED(states.notComparable) };

  const tied = new Set(before.ties.map(({ item }) => item));
  const all = [...after.items.values()];
  const measuredItems = all.filter(
    ({ id, kind }) =>
      !tied.has(id) &&
      !['driver', 'fuel', 'ballast', 'total', 'frontShare', 'leftShare', 'crossShare'].includes(
        kind,
      ) &&
      (read(id, before) !== null || read(id, after) !== null),
  );
  const values = measuredItems.map(({ id }) => ({
    before: read(id, before),
    after: read(id, after),
  }));
  const limitOf = (id: string): number | null =>
    sheet ? (lineOf(sheet, id)?.tolerance ?? null) : null;
  const items = measuredItems.map(({ id }, index): ComparedItem => ({
    id,
    before: values[index]?.before?.value.value ?? null,
    after: values[index]?.after?.value.value ?? null,
    limit: limitOf(id),
  }));
  const derived = before.ties.flatMap((tie): DerivedItem[] => {
    const from = (sources: ValueSources) =>
      throughTie(tie, (id) => read(id, sources)?.value.value ?? null);
    const middle = throughTie(tie, (id) => {
      const [one, other] = [read(id, before)?.value.value, read(id, after)?.value.value];
      return one === undefined || other === undefined ? null : (one + other) / 2;
    });
    if (!middle || !after.items.has(tie.item)) return [];
    return [
      {
        id: tie.item,
        before: from(before)?.value ?? null,
        after: from(after)?.value ?? null,
        limit: limitOf(tie.item),
        slopes: items.map(({ id }) => middle.slopes.get(id) ?? 0),
      },
    ];
  });
  const comparison = compareItems({
    items,
    derived,
    noise: noiseOf(measuredItems, values, input, states.relaid === true),
    known: [],
    states: states.differences,
  });
  const found =
    standing && comparison.joint.ids.some((id) => id.startsWith('weight.'))
      ? causes({
          joint: comparison.joint,
          measures: Object.fromEntries(
            measuredItems.map((item) => [item.id, measuresOf(item, standing)]),
          ),
          car: {
            standing,
            bars: after.record.state.barsFree === 'no' ? 'on' : 'off',
            places: placesOf(car),
            wheelRadii: car.details?.setUpWheels
              ? {
                  LF: radius(car, 'LF'),
                  RF: radius(car, 'RF'),
                  LR: radius(car, 'LR'),
                  RR: radius(car, 'RR'),
                }
              : null,
            camberGain: null,
            bumpSteer: null,
            rateUncertainty: RATE_UNCERTAINTY,
          },
          ruledOut: [],
        })
      : null;
  return {
    states,
    comparison,
    causes: found,
    answer: compareAnswer({
      comparison,
      causes: found,
      wording,
      itemName: (id) => after.items.get(id)?.label ?? id,
    }),
  };
};

const radius = (car: Car, corner: (typeof CORNERS)[number]) => {
  const found = car.details?.setUpWheels?.[corner].radius ?? { value: 0, u: 0 };
  return { value: found.value, u: found.u, dof: Infinity };
};

const placesOf = ({ details }: Car) => [
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
