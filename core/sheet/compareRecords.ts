import type { StandingCar } from '../adjust/statics.ts';
import { compareAnswer, type CompareAnswer } from '../answers/compareAnswer.ts';
import { commonLowering } from '../compare/commonLowering.ts';
import { causes, type Causes } from '../compare/causes/causes.ts';
import type { Wording } from '../compare/causes/causeWords.ts';
import { NOT_MEASURED } from '../compare/comparableItems.ts';
import { compareItems, type Comparison } from '../compare/compareItems.ts';
import type { ComparedItem, DerivedItem } from '../compare/comparisonInput.ts';
import type { LoweringScatter } from '../compare/repeatabilityLowering.ts';
import { CORNERS } from '../corners.ts';
import { kilogram, metre, metrePerSecond2 } from '../units.ts';
import { measuresOf } from './bodyEffect.ts';
import { comparableStates, type ComparedStates } from './comparableStates.ts';
import type { Item } from './items.ts';
import type { ValueSources } from './itemValue.ts';
import { readerOf, recordNoise, type Read } from './recordNoise.ts';
import { isMeasuredItem } from './isMeasuredItem.ts';
import { causeCarOf } from './causeCarOf.ts';
import type { CallsKept } from './callsKept.ts';
import { knownWork } from './knownWork.ts';
import { ruledOut, type ChecksKept } from './ruledOut.ts';
import { lineOf, type SetUpSheet } from './setUpSheet.ts';
import { massIn, massesOf } from './stateDifferences.ts';
import { throughTie } from './ties.ts';
import type { Car } from './car.ts';
import type { CarRecord } from './carRecord.ts';
import { workBetween } from './workBetween.ts';

/** What two records are compared with. */
export interface RecordsCompared {
  readonly car: Car;
  readonly before: ValueSources;
  readonly after: ValueSources;
  /** Whose tolerances are the smallest changes worth acting on; null takes the finest that can be seen. */
  readonly sheet: SetUpSheet | null;
  /** Scatter of lowering the unchanged car, from a study; null without one: then common limits stand for it. */
  readonly repeat: LoweringScatter | null;
  /** What laying the patch again adds, likewise; null while no study told it. */
  readonly laying: LoweringScatter | null;
  readonly gravity: number;
  readonly wording: Wording;
  /** Other records of the car: work noted in those between the two was done between them. */
  readonly records: readonly CarRecord[];
  /** Calls made on Adjust, and what was learnt of the car's response. */
  readonly adjusted: CallsKept;
  readonly checks: ChecksKept;
}

export interface RecordComparison {
  readonly states: ComparedStates;
  /** Null where the records are not compared at all. */
  readonly comparison: Comparison | null;
  readonly causes: Causes | null;
  /** What later looks at pads and patch say of the causes; one sentence each. */
  readonly ruledOut: readonly string[];
  readonly answer: CompareAnswer;
}

/** The car as a record found it; null where it was not weighed. */
export const standingAsWeighed = (
  { car, gravity }: Pick<RecordsCompared, 'car' | 'gravity'>,
  was: (id: string) => Read | null,
): StandingCar | null => {
  const weights = CORNERS.flatMap((corner) => {
    const weight = was(`weight.${corner}`);
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

/** What was done on purpose between the two, in the items that are measured. */
const workOf = (
  { car, before, after, records, adjusted }: RecordsCompared,
  items: readonly Item[],
  standing: StandingCar | null,
) => {
  const [one, other] = [before.record, after.record];
  const isForward = one.begunAt <= other.begunAt;
  const [first, last] = isForward ? [one, other] : [other, one];
  const between = records.filter(
    ({ id, carId, setAside, begunAt }) =>
      id !== first.id &&
      id !== last.id &&
      carId === first.carId &&
      !setAside &&
      begunAt > first.begunAt &&
      begunAt < last.begunAt,
  );
  const done = workBetween({ first, last, between, calls: adjusted.calls });
  return {
    ...knownWork({
      car,
      items,
      done,
      standing,
      bars: one.state.barsFree === 'no' ? 'on' : 'off',
      learnt: adjusted.learnt,
      massesSaid: massesOf(car)
        .map(({ id }) => id)
        .filter((id) => massIn(before, id) !== null && massIn(after, id) !== null),
      sign: isForward ? 1 : -1,
    }),
    isRelaid: done.some(
      ({ work, isBetween }) => work.what === 'patch laid again' && items.some(isBetween),
    ),
  };
};

/** What stands between these records and the naming of causes, and what to do about it. */
const lackingOf = ({ notCompared }: Comparison, standing: StandingCar | null): string => {
  if (!standing) return 'The car was not weighed in the record before: weigh it in both.';
  const why = notCompared.find(({ id }) => id.startsWith('weight.'))?.why ?? '';
  return why === NOT_MEASURED
    ? 'The car was not weighed in the record after: weigh it in both.'
    : `Corner weights cannot be compared. ${why}`;
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
 * pattern is looked for where the car was weighed both times. Corner weights are judged by a study of
 * lowerings; without one by wide common limits, and it is said.
 */
export const compareRecords = (input: RecordsCompared): RecordComparison => {
  const { car, before, after, sheet, wording } = input;
  const [was, is] = [readerOf(before), readerOf(after)];
  const standing = standingAsWeighed(input, was);
  const states = comparableStates({ car, before, after, standing });
  if (states.notComparable !== null)
    return {
      states,
      comparison: null,
      causes: null,
      ruledOut: [],
      answer: NOT_COMPARED(states.notComparable),
    };

  const measuredItems = [...after.items.values()].filter(
    (item) => isMeasuredItem(item, before.ties) && (was(item.id) !== null || is(item.id) !== null),
  );
  const values = measuredItems.map(({ id }) => ({
    before: was(id),
    after: is(id),
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
    const valueOf = (from: (id: string) => Read | null) =>
      throughTie(tie, (id) => from(id)?.value.value ?? null);
    const middle = throughTie(tie, (id) => {
      const [one, other] = [was(id)?.value.value, is(id)?.value.value];
      return one === undefined || other === undefined ? null : (one + other) / 2;
    });
    if (!middle || !after.items.has(tie.item)) return [];
    return [
      {
        id: tie.item,
        before: valueOf(was)?.value ?? null,
        after: valueOf(is)?.value ?? null,
        limit: limitOf(tie.item),
        slopes: items.map(({ id }) => middle.slopes.get(id) ?? 0),
      },
    ];
  });
  const work = workOf(input, measuredItems, standing);
  const isRelaid = states.relaid === true || work.isRelaid;
  const ruled = ruledOut({
    car,
    before,
    after,
    isRelaid,
    checks: input.checks,
    labels: wording.labels,
  });
  const comparison = compareItems({
    items,
    derived,
    noise: recordNoise(measuredItems, values, {
      repeat: input.repeat ?? commonLowering(car),
      laying: input.laying,
      isRelaid,
    }),
    known: work.known,
    states: states.differences,
  });
  const found =
    standing && comparison.joint.ids.some((id) => id.startsWith('weight.'))
      ? causes({
          joint: comparison.joint,
          measures: Object.fromEntries(
            measuredItems.map((item) => [item.id, measuresOf(item, standing)]),
          ),
          car: causeCarOf(car, standing, after.record.state.barsFree === 'no' ? 'on' : 'off'),
          ruledOut: ruled.causes,
        })
      : null;
  return {
    states,
    comparison,
    causes: found,
    ruledOut: ruled.words,
    answer: compareAnswer({
      comparison,
      causes: found,
      notTakenOut: work.notTakenOut,
      lacking: found ? null : lackingOf(comparison, standing),
      isCommonScatter: input.repeat === null,
      wording,
      itemName: (id) => after.items.get(id)?.label ?? id,
    }),
  };
};
