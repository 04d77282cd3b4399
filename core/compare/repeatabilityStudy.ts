import { varianceCombination, type VarianceEstimate } from '../statistics/varianceCombination.ts';
import {
  loweringCells,
  loweringScatter,
  type FourNumbers,
  type Lowering,
  type LoweringCell,
  type LoweringScatter,
} from './repeatabilityLowering.ts';

/** Components of variance of one quantity of the car over a study of lowerings. */
export interface QuantityStudy {
  /** Lowered again by the same person on an untouched patch. */
  readonly repeatability: VarianceEstimate;
  /** What another person adds; null where no patch was used by two. */
  readonly person: VarianceEstimate | null;
  /** What laying the patch again adds; null where no pads were laid twice in the same places. */
  readonly laying: VarianceEstimate | null;
  /** A single lowering with other people (if told) and the patch relaid; null without relaying. */
  readonly intermediate: VarianceEstimate | null;
}

export interface RepeatabilityStudy {
  readonly lowerings: number;
  readonly cells: number;
  /** Covariance of one lowering of the four corners under repeatability. */
  readonly scatter: LoweringScatter;
  /** In the order of the quantities asked for. */
  readonly quantities: readonly QuantityStudy[];
  /** What the study could not tell, in words for the screen. */
  readonly notTold: readonly string[];
}

export type StudyOutcome =
  | { readonly ok: true; readonly study: RepeatabilityStudy }
  | { readonly ok: false; readonly why: 'no lowering repeated' };

/** Quantity of the car made of four corner weights. */
export type LoweringQuantity = (weights: FourNumbers) => number;

/** Sum of squares of one level with the two numbers that tie it to the components. */
interface Level {
  readonly squares: number;
  readonly dof: number;
  /** Lowerings behind one unit of the level, averaged as for unequal groups. */
  readonly size: number;
}

/** Units about the mean of their parent, pooled over the parents. */
const levelOf = (parents: readonly (readonly { mean: number; count: number }[])[]): Level => {
  let squares = 0;
  let dof = 0;
  let sizes = 0;
  for (const units of parents) {
    const count = units.reduce((sum, unit) => sum + unit.count, 0);
    const mean = units.reduce((sum, unit) => sum + unit.count * unit.mean, 0) / count;
    squares += units.reduce((sum, unit) => sum + unit.count * (unit.mean - mean) ** 2, 0);
    dof += units.length - 1;
    sizes += count - units.reduce((sum, unit) => sum + unit.count ** 2, 0) / count;
  }
  return { squares, dof, size: dof > 0 ? sizes / dof : 0 };
};

interface Unit {
  readonly mean: number;
  readonly count: number;
}

const merge = (units: readonly Unit[]): Unit => {
  const count = units.reduce((sum, unit) => sum + unit.count, 0);
  return { count, mean: units.reduce((sum, unit) => sum + unit.count * unit.mean, 0) / count };
};

const studyQuantity = (
  cells: readonly LoweringCell[],
  quantity: LoweringQuantity,
): QuantityStudy => {
  const cellUnits = cells.map((cell) => {
    const values = cell.weights.map(quantity);
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    return { cell, values, unit: { mean, count: values.length } };
  });
  const withinSquares = cellUnits.reduce(
    (sum, { values, unit }) => sum + values.reduce((s, value) => s + (value - unit.mean) ** 2, 0),
    0,
  );
  const withinDof = cellUnits.reduce((sum, { unit }) => sum + unit.count - 1, 0);
  const within = { meanSquare: withinSquares / withinDof, dof: withinDof };

  // Persons within a laying, and layings within the same places of the pads: pads moved to other
  // corners are never compared, so their biases stay out.
  const layings = [
    ...Map.groupBy(cellUnits, ({ cell }) => JSON.stringify([cell.pads, cell.laying])).values(),
  ];
  const persons = levelOf(layings.map((group) => group.map(({ unit }) => unit)));
  const places = [...Map.groupBy(layings, (group) => JSON.stringify(group[0]?.cell.pads)).values()];
  const laid = levelOf(
    places.map((group) => group.map((each) => merge(each.map(({ unit }) => unit)))),
  );

  const repeat = (coefficient: number) => ({ ...within, coefficient });
  const square = (level: Level, coefficient: number) => ({
    meanSquare: level.squares / level.dof,
    dof: level.dof,
    coefficient,
  });
  const person =
    persons.dof > 0
      ? varianceCombination([square(persons, 1 / persons.size), repeat(-1 / persons.size)])
      : null;
  if (laid.dof === 0)
    return {
      repeatability: varianceCombination([repeat(1)]),
      person,
      laying: null,
      intermediate: null,
    };
  // Mean square of layings: σ_r² + m·σ_person² + n·σ_laying², balanced; m the size of a person's part.
  const n = laid.size;
  const m = persons.dof > 0 ? persons.size : 0;
  return {
    repeatability: varianceCombination([repeat(1)]),
    person,
    laying:
      persons.dof > 0
        ? varianceCombination([square(laid, 1 / n), square(persons, -1 / n)])
        : varianceCombination([square(laid, 1 / n), repeat(-1 / n)]),
    intermediate:
      persons.dof > 0
        ? varianceCombination([
            square(laid, 1 / n),
            square(persons, 1 / m - 1 / n),
            repeat(1 - 1 / m),
          ])
        : varianceCombination([square(laid, 1 / n), repeat(1 - 1 / n)]),
  };
};

/**
 * Study of lowerings of the unchanged car: repeatability, and what other people and relaying the patch
 * add, by nested analysis of variance (lowering in person in laying in places of the pads; ISO
 * 5725-3:2023 has the design, Searle, Casella, McCulloch, Variance Components, 1992, the estimators).
 * Components and intervals are exact for equal numbers and near enough for unequal ones. Units as the
 * quantity's. Pads' biases come from `repeatabilitySwap`, not from here.
 */
export const repeatabilityStudy = (
  lowerings: readonly Lowering[],
  quantities: readonly LoweringQuantity[],
): StudyOutcome => {
  const cells = loweringCells(lowerings);
  const scatter = loweringScatter(cells);
  if (!scatter) return { ok: false, why: 'no lowering repeated' };
  const studied = quantities.map((quantity) => studyQuantity(cells, quantity));
  const keys = (pick: (cell: LoweringCell) => unknown): number =>
    new Set(cells.map((cell) => JSON.stringify(pick(cell)))).size;
  const people = keys(({ person }) => person);
  const layings = keys(({ pads, laying }) => [pads, laying]);
  const places = keys(({ pads }) => pads);
  const notTold = [
    ...(layings === places
      ? ['what relaying the patch adds: lay the pads in the same places again']
      : []),
    ...(people < 2 ? ['what another person adds: let a second one lower'] : []),
    ...(people >= 2 && cells.length === layings
      ? ['person and patch apart: let both lower on one laying']
      : []),
  ];
  return {
    ok: true,
    study: {
      lowerings: lowerings.length,
      cells: cells.length,
      scatter,
      quantities: studied,
      notTold,
    },
  };
};
