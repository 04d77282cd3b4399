import { moments } from '../signal/moments.ts';
import { controlConstants } from './controlConstants.ts';
import type { ControlLimits } from './individualsChart.ts';

/** Chart of the means of subgroups (X̄), and of the scatter within them. */
export interface AveragesChart {
  readonly means: readonly number[];
  /** Range or standard deviation of each subgroup, as asked for. */
  readonly scatters: readonly number[];
  readonly meanLimits: ControlLimits;
  readonly scatterLimits: ControlLimits;
  /** Standard deviation of single values within a subgroup. */
  readonly sigma: number;
}

export type AveragesOutcome =
  | { readonly ok: true; readonly chart: AveragesChart }
  | { readonly ok: false; readonly why: 'too few subgroups' | 'unequal subgroups' };

/**
 * X̄ chart with a chart of ranges (up to ten in a subgroup, above which a range wastes what was
 * measured) or of standard deviations (NIST/SEMATECH e-Handbook 6.3.2.1). The
 * limits only know the scatter within subgroups: where lowerings of one day make a subgroup and
 * days differ, chart the means as single values instead. Subgroups of 2 to 25, all alike.
 */
export const averagesChart = (
  subgroups: readonly (readonly number[])[],
  by: 'range' | 'standard deviation',
): AveragesOutcome => {
  const size = subgroups[0]?.length ?? 0;
  if (subgroups.length < 2 || size < 2) return { ok: false, why: 'too few subgroups' };
  if (subgroups.some(({ length }) => length !== size))
    return { ok: false, why: 'unequal subgroups' };
  const constants = controlConstants(size);
  const means = subgroups.map((group) => moments(group).mean);
  const ranged = by === 'range';
  const scatters = subgroups.map((group) =>
    ranged ? Math.max(...group) - Math.min(...group) : moments(group).sd,
  );
  const centre = moments(means).mean;
  const scatter = moments(scatters).mean;
  const reach = (ranged ? constants.a2 : constants.a3) * scatter;
  return {
    ok: true,
    chart: {
      means,
      scatters,
      meanLimits: { centre, lower: centre - reach, upper: centre + reach },
      scatterLimits: {
        centre: scatter,
        lower: (ranged ? constants.rangeLower : constants.sdLower) * scatter,
        upper: (ranged ? constants.rangeUpper : constants.sdUpper) * scatter,
      },
      sigma: scatter / (ranged ? constants.d2 : constants.c4),
    },
  };
};
