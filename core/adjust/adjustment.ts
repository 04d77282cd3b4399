import type { Adjustment, LearntKept, PlanChoice } from '../contract/adjustment.ts';
import { perCorner, type PerCorner } from '../corners.ts';
import { adjustersOf } from '../sheet/adjustersOf.ts';
import type { Car } from '../sheet/car.ts';
import type { Adjusters } from './adjuster.ts';
import type { AdjustHistory } from './adjustHistory.ts';
import { crewSteps, type Call, type CrewStep } from './call.ts';
import { disagreement, type Disagreement } from './disagreement.ts';
import { keptFromStart, turnsSum } from './keptFromStart.ts';
import { learn } from './learn.ts';
import { plan, type Choice, type Plan } from './plan.ts';
import type { AdjustReading } from './reading.ts';
import { refused, type AdjustRefusal } from './refusal.ts';
import type { Targets } from './targets.ts';
import { sheetResponse, standingFrom, type TurnResponse } from './turnResponse.ts';

/** An adjustment with what follows from it. */
export interface PlannedNow {
  readonly ok: true;
  readonly adjusters: Adjusters;
  readonly history: AdjustHistory;
  /** As it was before the first reading, and as the readings have taught it since. */
  readonly prior: TurnResponse;
  readonly response: TurnResponse;
  /** The newest reading, its heights by all readings together. */
  readonly reading: AdjustReading;
  /** What is wanted, "keep" counted from the first reading. */
  readonly targets: Targets;
  /** Points whose height is only the rise since the first reading: they were never measured. */
  readonly isRise: readonly boolean[];
  readonly plan: Plan | AdjustRefusal;
}

/** The same, with what does not fit. */
export interface AdjustmentNow extends PlannedNow {
  /** Why the newest reading does not fit; null where it does. */
  readonly disagreement: Disagreement | null;
}

/** The newest reading as it was taken. */
export const lastReading = ({ start, rounds }: Adjustment): AdjustReading =>
  rounds.at(-1)?.after ?? start;

export const frictionOf = ({ friction }: Pick<Adjustment, 'friction'>): PerCorner<number> =>
  perCorner(() => friction);

/** Turns of some calls at every corner, up positive. */
const turnsTogether = (calls: readonly Call[]): PerCorner<number> =>
  perCorner((corner) =>
    calls.reduce((sum, call) => sum + (call.corner === corner ? call.turns : 0), 0),
  );

export const historyOf = (adjustment: Adjustment): AdjustHistory => ({
  points: adjustment.targets.heights.map(({ point }) => point),
  friction: frictionOf(adjustment),
  readings: [
    { turns: turnsTogether([]), reading: adjustment.start },
    ...adjustment.rounds.map(({ calls, after }) => ({
      turns: turnsTogether(calls),
      reading: after,
    })),
  ],
});

/** A response with what was learnt earlier, where it was learnt with the same data of the car. */
export const withLearnt = (response: TurnResponse, learnt: LearntKept | null): TurnResponse => {
  const { wheelRates } = response.standing.car;
  const isSame =
    learnt !== null &&
    Object.values(
      perCorner(
        (corner) =>
          learnt.wheelRates[corner] === wheelRates[corner] &&
          learnt.sheetSeatPerTurn[corner] === response.sheetSeatPerTurn[corner],
      ),
    ).every(Boolean);
  return isSame
    ? { ...response, logFactors: learnt.logFactors, covariance: learnt.covariance }
    : response;
};

/** What is kept of a response. */
export const learntOf = (response: TurnResponse): LearntKept => ({
  logFactors: response.logFactors,
  covariance: response.covariance,
  sheetSeatPerTurn: { ...response.sheetSeatPerTurn },
  wheelRates: { ...response.standing.car.wheelRates },
});

/**
 * Where an adjustment stands: the response learnt from all its readings, and the plan from what the
 * pads said last. Refuses, in words, a car whose data do not suffice and readings of no car.
 */
export const plannedNow = (car: Car, adjustment: Adjustment): PlannedNow | AdjustRefusal => {
  const adjusters = adjustersOf(car);
  const { start, bars } = adjustment;
  const standing = standingFrom(car, start.loads.values, start.gravity);
  if (!standing)
    return refused('no reading', 'The four loads do not make a standing car. Lower it and settle.');
  const made = sheetResponse(standing, adjusters, bars);
  if (!made.ok) return made;
  const prior = withLearnt(made.response, adjustment.prior);
  const history = historyOf(adjustment);
  const learnt = learn(prior, history);
  if (!learnt.ok) return learnt;
  const { response } = learnt;
  const { targets, heights, isRise } = keptFromStart({
    targets: adjustment.targets,
    start,
    response,
    turns: turnsSum(history.readings.map(({ turns }) => turns)),
    heights: learnt.heights,
  });
  const reading = { ...lastReading(adjustment), heights };
  return {
    ok: true,
    adjusters,
    history,
    prior,
    response,
    reading,
    targets,
    isRise,
    plan: plan({ reading, targets, adjusters, response, friction: frictionOf(adjustment) }),
  };
};

/** The same, and why the newest reading does not fit: that takes up to 0.2 s where it does not. */
export const adjustmentNow = (car: Car, adjustment: Adjustment): AdjustmentNow | AdjustRefusal => {
  const now = plannedNow(car, adjustment);
  return now.ok ? { ...now, disagreement: disagreement(now.prior, now.history) } : now;
};

/** One of the choices of a plan. */
export const choiceOf = (of: Plan, name: PlanChoice): Choice | AdjustRefusal =>
  ({
    'heights kept': of.heightsKept,
    'fewest corners': of.fewestCorners,
    'one corner': of.oneCorner,
  })[name];

/** The adjustment with the steps up to the next reading at work; as it is where nothing is turned. */
export const withSteps = (
  adjustment: Adjustment,
  steps: PerCorner<number>,
  adjusters: Adjusters,
): Adjustment => {
  const all = crewSteps(steps, adjusters);
  const round = all.slice(0, all.findIndex((step) => step.do === 'judge') + 1);
  return round.length === 0
    ? adjustment
    : { ...adjustment, open: { steps: round, at: 0, settled: 'as it came' } };
};

/** Takes the last made calls back: they become calls the other way. */
export const withUndo = (adjustment: Adjustment, adjusters: Adjusters): Adjustment => {
  const made = adjustment.rounds.findLast(({ calls }) => calls.length > 0);
  if (!made) return adjustment;
  const back = perCorner(
    // Not −0 where nothing was turned.
    (corner) => 0 - made.calls.reduce((sum, c) => sum + (c.corner === corner ? c.steps : 0), 0),
  );
  return withSteps(adjustment, back, adjusters);
};

/** The step at work; null while nothing was called. */
export const stepOf = ({ open }: Adjustment): CrewStep | null => open?.steps[open.at] ?? null;

/** Whether the steps at work raise the car for the turns: then there are no loads to follow. */
export const isCarRaised = ({ open }: Adjustment): boolean =>
  open?.steps.some((step) => step.do === 'raise') ?? false;

/** The corners that the steps at work turn. */
export const cornersCalled = ({ open }: Adjustment): readonly Call[] =>
  open?.steps.flatMap((step) => (step.do === 'turn' ? [step.call] : [])) ?? [];

/** The step at work is done. `settled` says how the car came to rest, of a step that settles it. */
export const withStepDone = (
  adjustment: Adjustment,
  settled?: AdjustReading['settled'],
): Adjustment => {
  const { open } = adjustment;
  if (!open || open.at + 1 >= open.steps.length) return adjustment;
  return {
    ...adjustment,
    open: { ...open, at: open.at + 1, settled: settled ?? open.settled },
  };
};

/**
 * Leaves the call at work and those after it. What was turned before it while the car was up is not
 * forgotten: the car is lowered, settled and read first.
 */
export const withCallLeft = (adjustment: Adjustment): Adjustment => {
  const { open } = adjustment;
  const made = open?.steps.slice(0, open.at).filter((step) => step.do === 'turn') ?? [];
  if (!open || made.length === 0) return { ...adjustment, open: null };
  const rest = open.steps.slice(open.at).filter((step) => step.do !== 'turn');
  return { ...adjustment, open: { ...open, steps: [...made, ...rest], at: made.length } };
};

/**
 * The adjustment with a new reading after the calls that were made since the one before, or after
 * none; what it teaches is kept with it.
 */
export const withReading = (car: Car, adjustment: Adjustment, after: AdjustReading): Adjustment => {
  const next: Adjustment = {
    ...adjustment,
    open: null,
    rounds: [
      ...adjustment.rounds,
      {
        calls: [...cornersCalled(adjustment)],
        before: lastReading(adjustment).loads.values,
        after: { ...after, heights: [...after.heights] },
      },
    ],
  };
  const now = adjustmentNow(car, next);
  return { ...next, learnt: now.ok ? learntOf(now.response) : adjustment.learnt };
};
