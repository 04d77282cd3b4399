import type { SeriesShown } from '../contract/padHistory.ts';
import { ZONE_RULES } from './chartRules.ts';
import { FIRM_BASE, judgeSeries } from './judgeSeries.ts';
import { padSeries, type SeasonPoint } from './padPoints.ts';

const DAY = 86_400;

/**
 * How pads' series are judged: limits from the first twenty values, no pattern over more than six
 * weeks, a memory of three weeks: some three weekends (common practice, no source).
 */
const OPTIONS = {
  base: FIRM_BASE,
  rules: ZONE_RULES,
  longestGap: 42 * DAY,
  memory: 21 * DAY,
  mostWeight: 0.3,
} as const;

/** Fewest values for limits that say anything; fewer are shown without; common practice, no source. */
const FEWEST = 5;

/** The series of a pad over its seasons, each with its charts. Noise that is none is left out. */
export const padSeason = (points: readonly SeasonPoint[]): readonly SeriesShown[] =>
  padSeries(points.filter((point) => point.kind !== 'noise' || point.sd > 0)).map(
    ({ kind, of, values }): SeriesShown => {
      const judged =
        values.length < FEWEST
          ? ({ ok: false, why: 'too few values' } as const)
          : judgeSeries(values, OPTIONS);
      const without = judged.ok
        ? null
        : judged.why === 'too few values'
          ? `${values.length} of at least ${FEWEST} values`
          : 'the first values do not scatter at all';
      return {
        kind,
        of,
        values: values.map(({ at, value }, index) => ({
          at,
          value,
          average: judged.ok ? (judged.ewma[index]?.average ?? null) : null,
          averageLimits: judged.ok ? (judged.ewma[index]?.limits ?? null) : null,
        })),
        limits: judged.ok ? judged.chart.limits : null,
        withoutLimits: without,
        isProvisional: judged.ok && judged.provisional,
        signals: judged.ok ? judged.signals.map(({ rule, from, to }) => ({ rule, from, to })) : [],
        steps: judged.ok ? [...judged.steps] : [],
        inControl: judged.ok ? judged.inControl : null,
      };
    },
  );
