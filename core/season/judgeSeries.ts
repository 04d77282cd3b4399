import { chartSignals, type ChartRule, type ChartSignal } from './chartRules.ts';
import { individualsChart, movingRanges, type IndividualsChart } from './individualsChart.ts';
import { unevenEwmaChart, type TimedValue, type UnevenEwmaPoint } from './unevenEwmaChart.ts';

export interface JudgeOptions {
  /** The first so many values make the limits. */
  readonly base: number;
  readonly rules: readonly ChartRule[];
  /** A pattern does not reach over a longer gap, s: what happened in a winter is a step, not a run. */
  readonly longestGap: number;
  /** Memory of the weighted average, s, and the most that one value may weigh. */
  readonly memory: number;
  readonly mostWeight: number;
}

export type SeriesJudgement =
  /** Too few values, or a base without scatter (a stuck or rounded value): no limits. */
  | { readonly ok: false; readonly why: 'too few values' | 'no scatter in the base' }
  | {
      readonly ok: true;
      readonly chart: IndividualsChart;
      /** Limits from fewer than `FIRM_BASE` values: shown as provisional. */
      readonly provisional: boolean;
      readonly signals: readonly ChartSignal[];
      /** Positions whose step from the value before is larger than chance allows. */
      readonly steps: readonly number[];
      readonly ewma: readonly UnevenEwmaPoint[];
      /** In control: no signal of any of the three after the base. */
      readonly inControl: boolean;
    };

/** Values from which limits are firm: 20 to 25 by common practice, no source. */
export const FIRM_BASE = 20;

/**
 * One series of a pad judged: limits from its first values by the moving range, the rules, the steps
 * and the weighted average over all of it. Patterns within the base are reported too, since a base
 * that is itself out of control makes no limits, but the verdict is on what came after it.
 */
export const judgeSeries = (
  values: readonly TimedValue[],
  { base, rules, longestGap, memory, mostWeight }: JudgeOptions,
): SeriesJudgement => {
  const numbers = values.map(({ value }) => value);
  const baseCount = Math.min(base, numbers.length);
  const chart = individualsChart(numbers.slice(0, baseCount));
  if (!chart) return { ok: false, why: 'too few values' };
  if (!(chart.sigma > 0)) return { ok: false, why: 'no scatter in the base' };
  const { centre } = chart.limits;
  const signals = chartSignals(values, { centre, sigma: chart.sigma, rules, longestGap });
  const steps = movingRanges(numbers).flatMap((range, index) =>
    range > chart.rangeUpper ? [index + 1] : [],
  );
  const ewma = unevenEwmaChart(values, {
    target: centre,
    sigma: chart.sigma,
    memory,
    width: 3,
    mostWeight,
  });
  const after = (position: number): boolean => position >= baseCount;
  return {
    ok: true,
    chart,
    provisional: baseCount < FIRM_BASE,
    signals,
    steps,
    ewma,
    inControl: !(
      signals.some(({ to }) => after(to)) ||
      steps.some(after) ||
      ewma.some(({ outside }, index) => outside && after(index))
    ),
  };
};
