import { measured, type Measured } from '../measured.ts';
import {
  cellMeans,
  loweringCells,
  loweringScatter,
  type FourNumbers,
  type Lowering,
  type LoweringCell,
  type LoweringScatter,
} from './repeatabilityLowering.ts';
import { dot, sdOf, swapModel, weightsOf, type SwapModel } from './repeatabilitySwapModel.ts';

/** The difference of two pads' biases, or why it is not known. */
export interface PadPair {
  readonly pads: readonly [string, string];
  /** First less second, kg; null where the lowerings do not tell it from the car. */
  readonly difference: Measured | null;
}

export interface SwapResult {
  /** Pads that can be told apart from one another and from the car: groups with known differences. */
  readonly groups: readonly (readonly string[])[];
  /** Bias of each pad against the mean of its group, kg; null for a pad alone in its group. */
  readonly biases: readonly { readonly pad: string; readonly bias: Measured | null }[];
  readonly pairs: readonly PadPair[];
  /**
   * Corner weights on the mean of all pads, kg, over the mean of the layings; null where the car is
   * not told from the pads there.
   */
  readonly corners: readonly [Measured | null, Measured | null, Measured | null, Measured | null];
  /** What no swap can tell, in words for the screen. */
  readonly notEstimable: readonly string[];
  /** Largest residual of the means over its standard uncertainty; null where none is left over. */
  readonly worstResidual: number | null;
  readonly scatter: LoweringScatter;
}

export type SwapOutcome =
  | { readonly ok: true; readonly result: SwapResult }
  | { readonly ok: false; readonly why: 'no lowering repeated' | 'a pad under two corners' };

/**
 * Separates the pads from the car by lowerings with pads swapped between corners. Linear model of the
 * mean of each condition a (pads, laying, person), corner j:
 *
 *   y_aj = car_j + bias(pad at j in a) + w_a·n_j
 *
 * The last is the warp of that condition along `pattern` (the car's n, see adjust/warp.ts): moving pads
 * relays the patch and a strut sticks elsewhere each time, and both act along n only, so it is taken out
 * of every condition; null leaves it in the scatter, for a patch that was not touched. By least squares;
 * what is not estimable (a combination that the null space of the model reaches: S. R. Searle, Linear
 * Models, 1971, 5.4) is said and not guessed. Uncertainty from the scatter of repeated lowerings with
 * the corners' covariance; its degrees of freedom are those of the repeats, which errs to the safe
 * side. A bias here is an offset at this load: zero and span are not told apart by one car.
 */
export const repeatabilitySwap = (
  lowerings: readonly Lowering[],
  pattern: FourNumbers | null,
): SwapOutcome => {
  if (lowerings.some(({ pads }) => new Set(pads).size !== 4))
    return { ok: false, why: 'a pad under two corners' };
  const cells = loweringCells(lowerings);
  const scatter = loweringScatter(cells);
  if (!scatter) return { ok: false, why: 'no lowering repeated' };
  const pads = [...new Set(cells.flatMap((cell) => [...cell.pads]))];
  const model = swapModel(cells, pads, pattern);

  const means = cells.flatMap((cell) => [...cellMeans(cell)]);
  /** Estimate of a combination of the parameters; null where it is not estimable. */
  const estimate = (combination: readonly number[]): Measured | null => {
    const weights = weightsOf(model, combination);
    if (!weights) return null;
    return measured(dot(weights, means), sdOf(weights, cells, scatter), scatter.dof);
  };

  const width = model.width;
  const unit = (entries: readonly (readonly [number, number])[]): number[] => {
    const combination = new Array<number>(width).fill(0);
    for (const [index, value] of entries)
      combination[index] = (combination[index] as number) + value;
    return combination;
  };
  const padAt = (index: number): number => 4 + index;
  const pairs = pads.flatMap((first, i) =>
    pads.slice(i + 1).map((second, offset): PadPair => {
      const j = i + 1 + offset;
      return {
        pads: [first, second],
        difference: estimate(
          unit([
            [padAt(i), 1],
            [padAt(j), -1],
          ]),
        ),
      };
    }),
  );
  const groups = groupsOf(pads, pairs);
  const biases = pads.map((pad, index) => {
    const group = groups.find((each) => each.includes(pad)) ?? [pad];
    const mean = group.map((each) => [padAt(pads.indexOf(each)), -1 / group.length] as const);
    return {
      pad,
      bias: group.length > 1 ? estimate(unit([[padAt(index), 1], ...mean])) : null,
    };
  });
  const overPads = pads.map((_, index) => [padAt(index), 1 / pads.length] as const);
  const corner = (j: 0 | 1 | 2 | 3): Measured | null =>
    estimate(
      unit([
        [j, 1],
        ...overPads,
        ...(pattern
          ? cells.map((_, a) => [4 + pads.length + a, pattern[j] / cells.length] as const)
          : []),
      ]),
    );
  const notEstimable = [
    'a bias common to all pads: weigh a known mass',
    'zero and span of a pad apart: raise and read zero, or weigh another load',
    ...(groups.length > 1
      ? [
          `pads of different groups (${groups.map((group) => group.join(', ')).join(' | ')}): swap them too${pattern ? '; with the patch relaid it takes three arrangements or more' : ''}`,
        ]
      : []),
  ];
  return {
    ok: true,
    result: {
      groups,
      biases,
      pairs,
      corners: [corner(0), corner(1), corner(2), corner(3)],
      notEstimable,
      worstResidual: worstResidual(model, cells, scatter),
      scatter,
    },
  };
};

/** Pads that are joined by known differences. */
const groupsOf = (pads: readonly string[], pairs: readonly PadPair[]): readonly string[][] => {
  const groups: string[][] = [];
  for (const pad of pads) {
    const known = groups.find((group) =>
      pairs.some(
        ({ pads: [a, b], difference }) =>
          difference !== null &&
          ((a === pad && group.includes(b)) || (b === pad && group.includes(a))),
      ),
    );
    if (known) known.push(pad);
    else groups.push([pad]);
  }
  return groups;
};

/** Largest residual of a cell mean over the standard deviation that repeats give such a residual. */
const worstResidual = (
  model: SwapModel,
  cells: readonly LoweringCell[],
  scatter: LoweringScatter,
): number | null => {
  const means = cells.flatMap((cell) => [...cellMeans(cell)]);
  let worst: number | null = null;
  for (const [index, row] of model.rows.entries()) {
    const fitted = weightsOf(model, row);
    if (!fitted) continue;
    const weights = fitted.map((weight, k) => (k === index ? 1 : 0) - weight);
    const own = sdOf(weights, cells, scatter);
    const single = Math.sqrt(scatter.covariance[5 * (index % 4)] as number);
    // A residual that the model cannot but make zero is rounding.
    if (!(own > 1e-6 * single)) continue;
    const ratio = Math.abs(dot(weights, means)) / own;
    worst = worst === null ? ratio : Math.max(worst, ratio);
  }
  return worst;
};
