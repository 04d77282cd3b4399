import type { StateDifference } from '../compare/knownChange.ts';
import type { Reading } from './carRecord.ts';
import { CAR_STATE_ITEMS } from './carState.ts';
import type { Item } from './items.ts';
import type { ValueSources } from './itemValue.ts';
import { standingOf } from './stale.ts';
import {
  isUnknown,
  massDifferences,
  massesOf,
  massIn,
  plainDifferences,
  wheelDifference,
  type StatesInput,
} from './stateDifferences.ts';

/** Two records held against each other before any of their numbers is. */
export interface ComparedStates {
  /** Why the records are not compared at all; null where they can be. */
  readonly notComparable: string | null;
  /** What is not the same, with its correction where there is one: for the comparison of the items. */
  readonly differences: readonly StateDifference[];
  /** What nobody checked or said in one of them: it may hide a difference. */
  readonly doubts: readonly string[];
  /** Whether the pads were laid or surveyed again in between; null where one does not say. */
  readonly relaid: boolean | null;
}

/** The datum of the readings of an item that count; undefined where there are none. */
const datumOf = ({ record }: ValueSources, item: Item): Reading['datum'] | undefined => {
  const { fresh, stale } = standingOf(record, item);
  return [...stale, ...fresh].findLast((entry) => entry.is === 'reading')?.datum;
};

const datumDifferences = ({ before, after }: StatesInput): readonly StateDifference[] =>
  [...before.items.values()].flatMap((item) => {
    const [was, is] = [datumOf(before, item), datumOf(after, item)];
    if (was === undefined || is === undefined || was === is) return [];
    const what = `${item.label}: measured against ${was ?? 'nothing stated'} before, ${is ?? 'nothing stated'} after`;
    return [{ what, correction: null, items: [item.id] }];
  });

const doubtsOf = ({ car, before, after }: StatesInput): readonly string[] => {
  const [was, is] = [before.record, after.record];
  const unchecked = CAR_STATE_ITEMS.filter(({ item }) => {
    const id = item === 'seatMass' ? 'driver' : item === 'fuelMass' ? 'fuel' : null;
    return [before, after].some((sources) =>
      id === null ? isUnknown(sources.record.state[item]) : massIn(sources, id) === null,
    );
  }).map(({ label }) => `${label}: not checked in both records`);
  const ballast = massesOf(car)
    .filter(({ id }) => id.startsWith('ballast.'))
    .filter(({ id }) => (massIn(before, id) === null) !== (massIn(after, id) === null))
    .map(({ label }) => `${label}: noted in one of them only`);
  const represented = (['driver', 'fuel', 'ballast'] as const).flatMap((what) => {
    const [one, other] = [was.represented[what], is.represented[what]];
    return one === other
      ? []
      : [`${what}: ${one ?? 'not stated'} before, ${other ?? 'not stated'} after`];
  });
  return [...unchecked, ...ballast, ...represented];
};

/**
 * Holds the states of two records of one car against each other. Known masses are corrected by their
 * place, ride heights on tyres and set-up wheels by the radii; any other difference leaves the items it
 * touches uncompared. What nobody checked is a doubt to be shown, and stops nothing.
 */
export const comparableStates = (input: StatesInput): ComparedStates => {
  const [before, after] = [input.before.record, input.after.record];
  const whole =
    before.carId !== after.carId
      ? 'They are of different cars.'
      : before.practice !== after.practice
        ? 'One is of the practice rig, the other of real pads.'
        : null;
  const told = before.laying !== null && after.laying !== null;
  const relaid = told ? before.laying !== after.laying || before.surveyId !== after.surveyId : null;
  if (whole !== null) return { notComparable: whole, differences: [], doubts: [], relaid };
  return {
    notComparable: null,
    differences: [
      ...massDifferences(input),
      ...wheelDifference(input),
      ...plainDifferences(input),
      ...datumDifferences(input),
    ],
    doubts: doubtsOf(input),
    relaid,
  };
};
