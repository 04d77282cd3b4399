import loadHighs from 'highs';
import type { IntegerModel } from '../../core/scrutineering/integerModel.ts';

/**
 * The one home of the solver library (HiGHS, compiled to WebAssembly). It blocks while it solves, so it is
 * called in a worker only.
 */

/** How a run ended, and the best it had. */
export interface Solved {
  /** `time` is at the time limit, with or without a solution. */
  readonly end: 'proved' | 'no solution' | 'time';
  readonly solution: readonly number[] | null;
  /** No solution costs less; −Infinity while nothing is known. */
  readonly bound: number;
}

export interface SolveOptions {
  readonly seconds: number;
  /** A solution to start from; null for none. */
  readonly start: readonly number[] | null;
  /** Every better solution at once, with the bound of that moment. */
  readonly better?: (solution: readonly number[], bound: number) => void;
}

export interface Solver {
  readonly solve: (model: IntegerModel, options: SolveOptions) => Solved;
}

/** Costs are whole wherever a proof is wanted, so a gap below one is none. */
const WHOLE_COST_GAP = 0.5;

const number = (value: unknown): number => (typeof value === 'number' ? value : Number.NaN);

/** Loads the library. */
export const createSolver = async (): Promise<Solver> => {
  const highs = await loadHighs();
  const { modelStatus, callbackType, variableType } = highs.constants;
  return {
    solve: (model, { seconds, start, better }) =>
      highs.withModel(
        {
          numCols: model.cost.length,
          numRows: model.rowLower.length,
          colCost: model.cost,
          colLower: model.lower,
          colUpper: model.upper,
          rowLower: model.rowLower,
          rowUpper: model.rowUpper,
          matrix: {
            format: 'csr',
            numRows: model.rowLower.length,
            numCols: model.cost.length,
            starts: model.starts,
            indices: model.columns,
            values: model.values,
          },
          integrality: model.isWhole.map((whole) =>
            whole ? variableType.integer : variableType.continuous,
          ),
        },
        (run): Solved => {
          const isExact = model.cost.every(Number.isInteger) && model.isWhole.every(Boolean);
          run.options.set({
            output_flag: false,
            time_limit: Math.max(0.001, seconds),
            mip_rel_gap: 0,
            mip_abs_gap: isExact ? WHOLE_COST_GAP : 1e-6,
          });
          if (start) run.setSolution({ colValue: start });
          run.run({
            [callbackType.mipImprovingSolution]: ({ data }) => {
              if (data.mip_solution) better?.([...data.mip_solution], number(data.mip_dual_bound));
              return undefined;
            },
          });
          const status = run.getModelStatus();
          const bound = number(run.info.get('mip_dual_bound'));
          const isFound =
            run.info.get('primal_solution_status') === highs.constants.solutionStatus.feasible;
          return {
            end:
              status === modelStatus.optimal || status === modelStatus.empty
                ? 'proved'
                : status === modelStatus.infeasible || status === modelStatus.unboundedOrInfeasible
                  ? 'no solution'
                  : 'time',
            solution: isFound ? [...run.getSolution().colValue] : null,
            bound: Number.isNaN(bound) ? -Infinity : bound,
          };
        },
      ),
  };
};
