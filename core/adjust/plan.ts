import { CORNERS, inOrder, perCorner, type Corner, type PerCorner } from '../corners.ts';
import type { Adjuster, Adjusters } from './adjuster.ts';
import { checkAdjusters } from './adjuster.ts';
import { beyondTurns, type BeyondTurns } from './beyondTurns.ts';
import { predict, type Prediction } from './prediction.ts';
import type { AdjustReading } from './reading.ts';
import { refused, type AdjustRefusal } from './refusal.ts';
import { wantedRows, type Targets, type WantedRow } from './targets.ts';
import {
  effectsAndSlopes,
  seatPerTurnWith,
  type Effects,
  type TurnResponse,
} from './turnResponse.ts';
import { bestWholeSteps, exactSteps, misfits, type StepProblem } from './wholeSteps.ts';

/** What a plan begins from. */
export interface PlanInput {
  readonly reading: AdjustReading;
  readonly targets: Targets;
  readonly adjusters: Adjusters;
  readonly response: TurnResponse;
  /** Friction of each strut at the wheel, newton: part of the doubt of what will be read. */
  readonly friction: PerCorner<number>;
}

/** What of one wanted thing is left after the turns. */
export interface Left {
  readonly kind: WantedRow['kind'];
  readonly corner: Corner | null;
  /** Index of the height's point, else null. */
  readonly point: number | null;
  /** Predicted less target, in the unit of the target, with its standard uncertainty. */
  readonly off: number;
  readonly u: number;
  readonly tolerance: number;
}

/** One way to turn. Steps and turns are up positive. */
export interface Choice {
  readonly ok: true;
  readonly steps: PerCorner<number>;
  readonly turns: PerCorner<number>;
  /** The same without whole steps and limits: the exact solution, turns. */
  readonly exactTurns: PerCorner<number>;
  readonly predicted: Prediction;
  readonly left: readonly Left[];
  /** The largest of what is left, in tolerances. */
  readonly distance: number;
  /** Whether everything is within its tolerance; if not, what keeps it: see `Short`. */
  readonly short: Short | null;
  /** Whether it was proved that no whole steps are better. */
  readonly proved: boolean;
}

/**
 * Why a choice stays out of tolerance. physics: not even turns without steps and limits reach it.
 * alone: the one adjuster does not, whatever is turned. steps: they are too coarse. room: the adjusters end before.
 */
export type Short = 'physics' | 'alone' | 'steps' | 'room';

export interface Plan {
  readonly ok: true;
  /** All four together: every ride height and the weight. */
  readonly heightsKept: Choice | AdjustRefusal;
  /** The fewest adjusters that bring everything within tolerance. */
  readonly fewestCorners: Choice | AdjustRefusal;
  /** One adjuster for the weight alone, the one that leaves least of the rest. */
  readonly oneCorner: Choice | AdjustRefusal;
  /** What is wanted and no turn of these adjusters can change, with what can. */
  readonly beyond: readonly BeyondTurns[];
}

const subsets = <T>(of: readonly T[], size: number): readonly (readonly T[])[] => {
  if (size === 0) return [[]];
  return of.flatMap((first, i) =>
    subsets(of.slice(i + 1), size - 1).map((rest) => [first, ...rest]),
  );
};

/**
 * Plans turns from a settled reading to targets, with the response as it is known now. Every choice
 * has its exact solution and the best whole steps, proved (`bestWholeSteps`), the distance being the
 * sum of squares of what is left over its tolerance. Refuses, in words, what cannot be planned; what
 * turns cannot change is said beside the choices.
 */
export const plan = (input: PlanInput): Plan | AdjustRefusal => {
  const { reading, targets, adjusters, response } = input;
  const wrong = checkAdjusters(adjusters);
  if (wrong) return wrong;
  const { car } = response.standing;
  const wanted = wantedRows(car, reading, targets);
  if (!wanted.ok) return wanted;
  const turned = CORNERS.flatMap((corner) => adjusters[corner] ?? []);
  if (turned.some(({ corner }) => response.sheetSeatPerTurn[corner] === null))
    return refused(
      'no response',
      'The response kept with the car lacks one of its adjusters. Begin again from the data of the car.',
    );

  const { rows } = wanted;
  const effects = effectsAndSlopes(response, response.logFactors);
  const choose = chooser(input, rows, effects);
  const weightRows = rows.filter(({ kind }) => kind !== 'height');
  return {
    ok: true,
    heightsKept: choose(turned, rows) ?? dependent(),
    fewestCorners: fewest(turned, rows, choose),
    oneCorner: single(turned, weightRows, choose),
    beyond: beyondTurns(car, reading, targets),
  };
};

const dependent = (): AdjustRefusal =>
  refused(
    'not physical',
    'Two adjusters do exactly the same, so turns cannot be shared out. Check the data of the car.',
  );

type Choose = (
  turned: readonly Adjuster[],
  rows: readonly WantedRow[],
) => Choice | AdjustRefusal | null;

/** Within tolerance in everything with as few adjusters as can be; of these the nearest. */
const fewest = (
  turned: readonly Adjuster[],
  rows: readonly WantedRow[],
  choose: Choose,
): Choice | AdjustRefusal => {
  for (let size = 0; size <= turned.length; size += 1) {
    let best: Choice | null = null;
    for (const some of subsets(turned, size)) {
      const choice = choose(some, rows);
      if (choice?.ok && !choice.short && (!best || squaresLeft(choice) < squaresLeft(best)))
        best = choice;
    }
    if (best) return best;
  }
  return refused(
    'out of reach',
    'No turns in whole steps bring everything within tolerance. See how near the others come, or widen a tolerance.',
  );
};

const single = (
  turned: readonly Adjuster[],
  weightRows: readonly WantedRow[],
  choose: Choose,
): Choice | AdjustRefusal => {
  let best: Choice | AdjustRefusal | null = null;
  for (const one of turned) {
    const choice = choose([one], weightRows);
    if (!choice) continue;
    if (!best?.ok || (choice.ok && squaresLeft(choice) < squaresLeft(best))) best = choice;
  }
  return best ?? dependent();
};

const squaresLeft = (choice: Choice): number =>
  choice.left.reduce((sum, { off, tolerance }) => sum + (off / tolerance) ** 2, 0);

/** Makes choices: the turns are sought on the rows given, what is left is told of all. */
const chooser = (input: PlanInput, all: readonly WantedRow[], effects: Effects): Choose => {
  const { response, adjusters, reading } = input;
  const perTurn = seatPerTurnWith(response, response.logFactors);
  const perStep = ({ corner, stepsPerTurn }: Adjuster, row: WantedRow): number => {
    const i = CORNERS.indexOf(corner);
    const column = effects.effects[i] as readonly number[];
    const perMetre = row.by.reduce((sum, each, k) => sum + each * (column[k] as number), 0);
    return (perMetre * (perTurn[i] as number)) / stepsPerTurn / row.tolerance;
  };
  return (turned, rows) => {
    const problemOf = (of: readonly WantedRow[]): StepProblem => ({
      rows: of.map((row) => turned.map((adjuster) => perStep(adjuster, row))),
      wanted: of.map(({ away, tolerance }) => away / tolerance),
      least: turned.map(({ room }) => (room ? -room.down : -Infinity)),
      most: turned.map(({ room }) => room?.up ?? Infinity),
    });
    const problem = problemOf(rows);
    const exact = turned.length === 0 ? [] : exactSteps(problem);
    const best = bestWholeSteps(problem);
    if (!exact || !best) return null;
    const toCorners = (values: readonly number[]): PerCorner<number> =>
      perCorner((corner) => values[turned.findIndex((each) => each.corner === corner)] ?? 0);
    const toTurns = (steps: PerCorner<number>): PerCorner<number> =>
      perCorner((corner) => steps[corner] / (adjusters[corner]?.stepsPerTurn ?? 1));
    const steps = toCorners(best.steps);
    const turns = toTurns(steps);
    const predicted = predict(input, turns, effects);
    if (!predicted)
      return refused(
        'not physical',
        'On the way a wheel would leave its pad, so these turns cannot be planned. Check targets and reading.',
      );
    const left = all.map(({ kind, corner, point, by, away, tolerance }): Left => {
      const off = by.reduce((sum, each, k) => sum + each * (predicted.change[k] as number), -away);
      const variance = by.reduce(
        (sum, a, i) =>
          sum + by.reduce((s, b, k) => s + a * b * (predicted.covariance[i * 8 + k] as number), 0),
        point === null ? 0 : (reading.heights[point]?.u ?? 0) ** 2,
      );
      return { kind, corner, point, off, u: Math.sqrt(Math.max(0, variance)), tolerance };
    });
    const distance = Math.max(...left.map(({ off, tolerance }) => Math.abs(off) / tolerance));
    const isGood = (left: readonly number[]): boolean =>
      left.every((value) => Math.abs(value) <= 1 + 1e-9);
    const isWithin = isGood([distance]);
    // Turns were perhaps sought on some rows alone, but what keeps a choice out is asked of all.
    const short = (): Short => {
      const whole = problemOf(all);
      const nearest = exactSteps(whole);
      const reaches = nearest !== null && isGood(misfits(whole, nearest));
      if (!reaches) return rows === all ? 'physics' : 'alone';
      if (rows !== all && bestWholeSteps(whole)?.within) return 'steps';
      const free = bestWholeSteps({
        ...whole,
        least: turned.map(() => -Infinity),
        most: turned.map(() => Infinity),
      });
      return free?.within ? 'room' : 'steps';
    };
    return {
      ok: true,
      steps,
      turns,
      exactTurns: toTurns(toCorners(exact)),
      predicted,
      left,
      distance,
      short: isWithin ? null : short(),
      proved: best.proved,
    };
  };
};

/** The corners that a choice turns, in order. */
export const cornersTurned = (choice: Choice): readonly Corner[] =>
  CORNERS.filter((_, i) => inOrder(choice.steps)[i] !== 0);
