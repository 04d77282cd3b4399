import { CORNERS } from '../corners.ts';
import { inWords, massShown } from '../format/quantity.ts';
import type { Phase } from '../contract/records.ts';
import type { CarRecord } from '../sheet/carRecord.ts';
import type { WalkFacts, WalkPlace } from './walkFacts.ts';

/**
 * Once round the whole job, as data: where, what to do and why, and what will be seen. What is still
 * awaited is judged by what the bench says and keeps, so that a step is done when the thing was done.
 */
export interface WalkStep {
  readonly name: string;
  readonly place: WalkPlace;
  /** What to do and why, one sentence. */
  readonly doing: string;
  /** What will be seen, one sentence. */
  readonly seeing: string;
  /** What was done, for the end: "surveyed the patch". */
  readonly past: string;
  /** What to do next for it, in a few words; null once it is done. */
  readonly awaits: (facts: WalkFacts) => string | null;
}

const isNew = (at: number, { begunAt }: WalkFacts): boolean => at >= begunAt;

const newestRecord = (facts: WalkFacts, phase: Phase): CarRecord | null =>
  facts.records.findLast(
    (record) =>
      record.phase === phase &&
      record.carId === facts.state.car.id &&
      !record.setAside &&
      isNew(record.begunAt, facts),
  ) ?? null;

/** What a run can move at one corner, read before and after it. */
const hasReading = (record: CarRecord, item: string): boolean =>
  record.entries.some((entry) => entry.is === 'reading' && !entry.setAside && entry.item === item);

const measuring = (facts: WalkFacts, phase: Phase): string | null => {
  const record = newestRecord(facts, phase);
  if (!record) return `Under Walk begin a record for the ${phase}.`;
  const { car } = facts.state;
  const height = car.details?.heightPoints.find(({ id }) => id === 'RF');
  const missing = [
    ...(height ? [{ item: 'height.RF', name: `ride height ${height.name}` }] : []),
    { item: 'camber.RF', name: 'right front camber' },
    { item: 'toe.RF', name: 'right front toe' },
  ].find(({ item }) => !hasReading(record, item));
  if (missing)
    return `In the list choose ${missing.name}; Read the practice gauge, Keep and go on.`;
  return record.entries.some((entry) => entry.is === 'capture' && !entry.setAside)
    ? null
    : 'Under Corner weights press Capture now.';
};

/** Calls made since the walk began, adjustment by adjustment as last told. */
const callsMade = (facts: WalkFacts): number =>
  [
    ...new Map(
      facts.adjustments
        .filter(({ at }) => isNew(at, facts))
        .map(({ subject, adjustment }) => [subject, adjustment]),
    ).values(),
  ]
    .flatMap(({ rounds }) => rounds)
    .reduce((sum, { calls }) => sum + calls.length, 0);

/** Calls to be made: after the second the car answers as learnt from the first. */
const CALLS = 2;

const adjusting = (facts: WalkFacts): string | null => {
  const calls = callsMade(facts);
  if (calls >= CALLS) return null;
  const open = facts.adjustments.findLast(
    ({ adjustment }) => adjustment.carId === facts.state.car.id,
  )?.adjustment;
  if (!open || open.isOver) return 'Read the pads and plan.';
  const step = open.open?.steps[open.open.at];
  if (!step)
    return calls === 0
      ? 'Take Fewest corners, then Start calls.'
      : `${CALLS - calls} more: press Next call, or end it and ask for another cross.`;
  switch (step.do) {
    case 'turn':
      return `Turn the ${step.call.corner} perch below by about that much, then Done.`;
    case 'raise':
      return 'Press Raise below, then Done.';
    case 'lower':
      return 'Press Lower below, then Done.';
    case 'settle':
      return 'Lean on and let go below, then Settled, hands off.';
    case 'judge':
      return 'Hands off: the reading is taken by itself.';
  }
};

/** By so much their equipment reads heavier here, kg: made up for the practice. */
const THEIRS_HEAVIER = 1.2;
const USUAL_TOTAL = 1305;

const scrutineering = (facts: WalkFacts): string | null => {
  if (facts.pairs.some(({ at, isAside }) => isNew(at, facts) && !isAside)) return null;
  const known = new Map(facts.authorities.map(({ subject, isAside }) => [subject, isAside]));
  if (![...known.values()].includes(false))
    return 'Type a name for the scrutineers, for example Practice Scrutineers, then Add.';
  const { captures, car, settings } = facts.state;
  const ours = captures.find(({ carId, setAside }) => carId === car.id && !setAside);
  const theirs = (ours?.balance.total.value ?? USUAL_TOTAL) + THEIRS_HEAVIER;
  const text = inWords(massShown(settings.massUnit, theirs, { decimals: 1 }));
  return `Under Their readings type that they read ${text}, then Add the pair.`;
};

export const WALK_STEPS: readonly WalkStep[] = [
  {
    name: 'Flat patch',
    place: 'patch',
    doing: 'Survey the ground first: a pad that stands high carries weight that is not the car’s.',
    seeing: 'Which screws to turn, and what the ground costs this car.',
    past: 'surveyed the patch',
    awaits: (facts) =>
      facts.surveys.some(({ at }) => isNew(at, facts))
        ? null
        : 'New survey, Read the practice staff, Store the survey.',
  },
  {
    name: 'Zero',
    place: 'balance',
    doing: 'Raise the car and take the zero, so that the pads know what nothing weighs.',
    seeing: 'Four empty pads that read 0 within a few grams.',
    past: 'took the zero',
    awaits: (facts) => {
      // The rig takes a zero of its own when it is set up: that one does not count.
      const { zeros, practice } = facts.state;
      const isTaken = CORNERS.every((corner) => {
        const zero = zeros[corner];
        return zero !== null && zero.takenAt >= facts.stepBegunAt;
      });
      if (isTaken) return null;
      return practice?.car === 'raised'
        ? 'Wait for four flat lines, then press Zero.'
        : 'Press Raise on the practice car.';
    },
  },
  {
    name: 'Lower',
    place: 'balance',
    doing: 'Lower the car onto the pads when everybody is clear of it.',
    seeing: 'Ripples at each corner while the load comes on.',
    past: 'lowered the car',
    awaits: ({ state: { practice } }) =>
      practice?.car === 'on the pads' ? null : 'Press Lower on the practice car.',
  },
  {
    name: 'Settle',
    place: 'balance',
    doing: 'Let it settle before you believe it, then keep the reading with Capture.',
    seeing: 'Ripples, a swell, then flat lines, and ± beside each corner.',
    past: 'captured a settled car',
    awaits: (facts) => {
      if (facts.state.captures.some(({ takenAt }) => isNew(takenAt, facts))) return null;
      return facts.isSettled ? 'Press Capture.' : 'Wait for four flat lines.';
    },
  },
  {
    name: 'Set-up',
    place: 'measure',
    doing: 'Take a set-up sheet: it says what the car shall be, and how near.',
    seeing: 'A target and a tolerance for every item that is measured.',
    past: 'wrote the set-up sheet',
    awaits: ({ sheets, state: { car } }) => {
      const own = sheets.filter(({ carId }) => carId === car.id);
      if (own.length === 0) return 'Write a sheet first, then Take the example sheet.';
      return own.some(({ released }) => released === null)
        ? null
        : 'Under Sheet copy the released one to the next number.';
    },
  },
  {
    name: 'Adjust',
    place: 'adjust',
    doing:
      'Make two calls towards the cross weight of the sheet: each is read, and teaches the next.',
    seeing: 'Which corner, which way, how far; then how the car answered.',
    past: 'adjusted it with two calls',
    awaits: adjusting,
  },
  {
    name: 'Measure',
    place: 'measure',
    doing: 'Measure the car as set up: right front at least, and the four corner weights.',
    seeing: 'A list that fills, each value beside its target.',
    past: 'measured the set-up',
    awaits: (facts) => measuring(facts, 'set-up'),
  },
  {
    name: 'Release',
    place: 'measure',
    doing:
      'Release the sheet, so that nothing is forgotten before the car rolls and nobody changes it after.',
    seeing: 'Every item as built, and a list to tick.',
    past: 'released the sheet',
    awaits: (facts) =>
      facts.sheets.some(
        ({ released, carId }) =>
          released !== null && carId === facts.state.car.id && isNew(released.at, facts),
      )
        ? null
        : 'Under Release answer each line, then Release the sheet.',
  },
  {
    name: 'Run',
    place: 'balance',
    doing: 'Send the car out, with a choice of what happens or a surprise, and lower it again.',
    seeing: 'Nothing yet: what a run does is found by measuring.',
    past: 'sent it on a run',
    awaits: ({ runsBefore, state: { practice } }) => {
      const isBack = practice !== null && practice.runs > runsBefore;
      if (isBack) return practice.car === 'raised' ? 'Back from the run: press Lower.' : null;
      return practice?.car === 'raised'
        ? 'Choose what happens, then press Send it out.'
        : 'Press Raise on the practice car.';
    },
  },
  {
    name: 'Set-down',
    place: 'measure',
    doing: 'Measure the same again, to have something to compare.',
    seeing: 'The same list, with what is far from the sheet asked about.',
    past: 'measured the set-down',
    awaits: (facts) =>
      facts.state.practice?.car === 'on the pads'
        ? measuring(facts, 'set-down')
        : 'On Balance press Lower, and let it settle.',
  },
  {
    name: 'Compare',
    place: 'compare',
    doing: 'Read what has changed, and what on the car explains it.',
    seeing: 'Moved, same or cannot tell for each item, and likely causes.',
    past: 'compared before and after',
    awaits: (facts) => {
      if (!newestRecord(facts, 'set-up') || !newestRecord(facts, 'set-down'))
        return 'A set-up and a set-down are needed: measure them, or skip this.';
      return facts.place === 'compare' ? null : 'Open Compare.';
    },
  },
  {
    name: 'Scrutineering',
    place: 'scrutineering',
    doing: 'Put their reading beside ours, to know before the car goes whether it passes.',
    seeing: 'For each limit the chance to pass and what is left to it.',
    past: 'looked whether it passes',
    awaits: scrutineering,
  },
];

/** Whether the thing was done. */
export const isDone = (step: WalkStep, facts: WalkFacts): boolean => step.awaits(facts) === null;
